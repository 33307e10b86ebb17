// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "sample-shop/catalogue.h"

namespace milehold::sample {

/// Part numbers with their chains of revisions; needs `begin` and `end`.
void addParts(Catalogue& book, Random& random);
/// Repair paths; needs families and parts.
void addPaths(Catalogue& book, Random& random);

} // namespace milehold::sample
