// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/cli/session.h"

namespace CLI {
class App;
}

namespace milehold::cli {

/// `pooled`: small groups beside one another, each with the weight that the others have in it.
Action setUpPooled(CLI::App& options);

} // namespace milehold::cli
