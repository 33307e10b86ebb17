// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/evidence.h"
#include "core/life/life_mark.h"
#include "core/survival/counts.h"

#include <optional>

namespace milehold::core {

/// Adds evidence up, life by life or group by group. See evidenceOf().
class EvidenceSum {
public:
    explicit EvidenceSum(DistanceUnit unit, std::optional<Distance> horizon = std::nullopt)
        : unit_(unit), horizon_(horizon) {}

    void add(const LifeMark& life);
    void add(const Evidence& others); ///< of other lives, in the same unit and within the same horizon
    /// `known`: the counts of the known reading of all that was added.
    Evidence total(const Counts& known) const;

private:
    DistanceUnit unit_;
    std::optional<Distance> horizon_;
    Evidence evidence_;
};

} // namespace milehold::core
