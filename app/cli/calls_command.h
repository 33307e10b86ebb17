// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/cli/session.h"

namespace CLI {
class App;
}

namespace milehold::cli {

/// `calls`: whom of a shop to call, the most worth a minute first.
Action setUpCalls(CLI::App& options);

} // namespace milehold::cli
