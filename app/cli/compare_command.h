// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/cli/session.h"

namespace CLI {
class App;
}

namespace milehold::cli {

/// `compare`: whether groups share one hazard.
Action setUpCompare(CLI::App& options);

} // namespace milehold::cli
