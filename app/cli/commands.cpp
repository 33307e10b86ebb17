// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/commands.h"

#include "app/cli/curve_command.h"
#include "app/cli/factors_command.h"
#include "app/cli/fit_command.h"

namespace milehold::cli {

namespace {

// A new command is a file pair NAME_command.{h,cpp} and one line here.
constexpr Command kCommands[] = {
    {"curve", "survival curve of each group", setUpCurve},
    {"fit", "maximum likelihood life distribution of each group", setUpFit},
    {"factors", "proportional-hazards regression on columns of the table", setUpFactors},
};

} // namespace

std::span<const Command> commands() {
    return kCommands;
}

} // namespace milehold::cli
