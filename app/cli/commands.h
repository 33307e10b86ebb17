// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/cli/session.h"

#include <span>

namespace CLI {
class App;
}

namespace milehold::cli {

/// One command: `setUp` adds its options to a command of its own and returns what to do with them.
struct Command {
    const char* name;
    const char* summary;
    Action (*setUp)(CLI::App& options);
};

/// Every command, in the order of the help.
std::span<const Command> commands();

} // namespace milehold::cli
