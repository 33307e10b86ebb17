// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/cli/session.h"

namespace CLI {
class App;
}

namespace milehold::cli {

/// `plan`: comebacks and jobs needed to tell two paths apart.
Action setUpPlan(CLI::App& options);

} // namespace milehold::cli
