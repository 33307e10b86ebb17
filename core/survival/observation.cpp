// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/observation.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <tuple>

namespace milehold::core {

bool Observation::cameBack() const {
    return std::isfinite(upper);
}

void mergeEqual(std::vector<Observation>& rows) {
    const auto key = [](const Observation& row) { return std::tie(row.lower, row.upper, row.entry); };
    // Weights break ties so that their sum, and with it every result, does not depend on the order of the
    // rows.
    std::sort(rows.begin(), rows.end(), [&](const Observation& a, const Observation& b) {
        return key(a) < key(b) || (key(a) == key(b) && a.weight < b.weight);
    });
    std::size_t kept = 0;
    for (std::size_t i = 0; i < rows.size(); ++i) {
        if (kept > 0 && key(rows[kept - 1]) == key(rows[i]))
            rows[kept - 1].weight += rows[i].weight;
        else
            rows[kept++] = rows[i];
    }
    rows.resize(kept);
}

std::vector<std::vector<Observation>> observationsByGroup(const Lives& lives) {
    std::vector<std::vector<Observation>> groups(lives.groupNames.size());
    for (std::size_t i = 0; i < lives.size(); ++i) {
        const double upper = lives.cameBack(i) ? lives.untilOf(i) : std::numeric_limits<double>::infinity();
        groups[lives.groupOf(i)].push_back({lives.miles[i], upper, lives.entryOf(i), lives.weightOf(i)});
    }
    for (auto& rows : groups)
        mergeEqual(rows);
    return groups;
}

} // namespace milehold::core
