// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/commands.h"

#include <array>

namespace milehold::cli {

namespace {

// A new command is a file pair NAME_command.{h,cpp} and one line here.
constexpr std::array<Command, 0> kCommands = {};

} // namespace

std::span<const Command> commands() {
    return kCommands;
}

} // namespace milehold::cli
