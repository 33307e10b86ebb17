// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/cli/session.h"

namespace CLI {
class App;
}

namespace milehold::cli {

/// `early-warning`: a running sum of comebacks against the expected, and the limit it may not pass.
Action setUpEarlyWarning(CLI::App& options);

} // namespace milehold::cli
