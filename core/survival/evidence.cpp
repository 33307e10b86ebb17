// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/evidence.h"

#include "core/survival/crossing.h"

#include <algorithm>
#include <cmath>

namespace milehold::core {

Result<WatchCurve> watchCurve(const Counts& counts) {
    if (counts.size() == 0)
        return fail(ErrorCode::InvalidInput, "there are no lives to follow");
    const std::vector<double> watched = counts.watched();
    WatchCurve curve;
    double following = 1;
    for (std::size_t i = 0; i < counts.size(); ++i) {
        const double left = counts.left[i];
        if (!(left > 0))
            continue;
        const double n = watched[i] - counts.comebacks[i];
        following *= std::max(0.0, n - left) / n;
        curve.miles.push_back(counts.miles[i]);
        curve.following.push_back(following);
    }
    curve.median =
        crossing(curve.miles, curve.following, 0, curve.miles.size(), 0.5, counts.longestWatched());
    return curve;
}

Result<Completeness> completeness(std::span<const double> knownMiles, std::span<const double> unseenMiles,
                                  double horizon) {
    if (knownMiles.size() != unseenMiles.size())
        return fail(ErrorCode::InvalidInput, "known and unseen miles differ in number");
    if (!(horizon > 0))
        return fail(ErrorCode::InvalidInput, "the horizon is not above 0");
    Completeness result;
    for (std::size_t i = 0; i < knownMiles.size(); ++i) {
        if (!(std::isfinite(knownMiles[i]) && knownMiles[i] >= 0 && std::isfinite(unseenMiles[i]) &&
              unseenMiles[i] >= 0))
            return fail(ErrorCode::InvalidInput, "known and unseen miles must be finite and 0 or more");
        const double known = std::min(knownMiles[i], horizon);
        result.known += known;
        result.unseen += std::min(knownMiles[i] + unseenMiles[i], horizon) - known;
    }
    return result;
}

} // namespace milehold::core
