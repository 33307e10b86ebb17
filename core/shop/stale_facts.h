// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/shelf.h"

#include <string>
#include <vector>

namespace milehold::core {

/// A fact on the shelf whose next check is overdue.
struct StaleFact {
    ShelfSubject subject = ShelfSubject::RepairPath;
    Uuid id;           ///< of the path, part, calibration or note itself
    bool note = false; ///< true: `id` is a note's, about a subject of this kind
    std::string name;
    Freshness freshness;
    friend bool operator==(const StaleFact&, const StaleFact&) = default;
};

/// Everything on the shelf that wants checking, longest overdue first. What nobody uses any more does not: a
/// superseded part or calibration, a path that is not active.
std::vector<StaleFact> wantsChecking(const Shelf& shelf, Date today);

/// How long a fact is trusted when nobody has said.
inline constexpr int kUsualDaysBetweenChecks = 180;

/// The same fact checked today: good for as long again as it was the last time.
Freshness checkedToday(const Freshness& freshness, Date today);

} // namespace milehold::core
