// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/cli/session.h"

namespace CLI {
class App;
}

namespace milehold::cli {

/// `evidence`: how completely a shop has followed its repairs, and what the unseen could change.
Action setUpEvidence(CLI::App& options);

} // namespace milehold::cli
