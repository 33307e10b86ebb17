// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/cli/session.h"

namespace CLI {
class App;
}

namespace milehold::cli {

/// `quote`: the repair-life quote for one vehicle.
Action setUpQuote(CLI::App& options);

} // namespace milehold::cli
