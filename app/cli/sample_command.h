// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/cli/session.h"

namespace CLI {
class App;
}

namespace milehold::cli {

/// `sample`: writes the invented shop, or prints its lives with the truth beside them.
Action setUpSample(CLI::App& options);

} // namespace milehold::cli
