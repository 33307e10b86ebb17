// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/cli/session.h"

namespace CLI {
class App;
}

namespace milehold::cli {

/// `repeats`: mean cumulative number of comebacks a vehicle.
Action setUpRepeats(CLI::App& options);

} // namespace milehold::cli
