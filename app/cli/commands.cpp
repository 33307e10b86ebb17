// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/commands.h"

#include "app/cli/curve_command.h"

namespace milehold::cli {

namespace {

// A new command is a file pair NAME_command.{h,cpp} and one line here.
constexpr Command kCommands[] = {
    {"curve", "survival curve of each group", setUpCurve},
};

} // namespace

std::span<const Command> commands() {
    return kCommands;
}

} // namespace milehold::cli
