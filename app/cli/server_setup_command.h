// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/cli/session.h"

namespace CLI {
class App;
}

namespace milehold::cli {

Action setUpServerSetup(CLI::App& command);

} // namespace milehold::cli
