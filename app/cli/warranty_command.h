// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/cli/session.h"

namespace CLI {
class App;
}

namespace milehold::cli {

/// `warranty`: the share of jobs that come back within terms of months and miles, their number and cost.
Action setUpWarranty(CLI::App& command);

} // namespace milehold::cli
