// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/cli/session.h"

namespace CLI {
class App;
}

namespace milehold::cli {

/// `factors`: proportional-hazards regression on columns of the table.
Action setUpFactors(CLI::App& command);

} // namespace milehold::cli
