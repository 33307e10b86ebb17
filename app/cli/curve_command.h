// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/cli/session.h"

namespace CLI {
class App;
}

namespace milehold::cli {

/// `curve`: the survival curve of each group.
Action setUpCurve(CLI::App& options);

} // namespace milehold::cli
