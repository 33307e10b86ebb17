// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/cli/session.h"

namespace CLI {
class App;
}

namespace milehold::cli {

/// `ends`: how often each end has happened.
Action setUpEnds(CLI::App& options);

} // namespace milehold::cli
