// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/cli/session.h"

namespace CLI {
class App;
}

namespace milehold::cli {

/// `funnel`: comebacks observed over expected with limits of chance, a point each.
Action setUpFunnel(CLI::App& options);

} // namespace milehold::cli
