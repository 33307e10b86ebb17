// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/evidence.h"

#include "core/survival/crossing.h"

#include <algorithm>

namespace milehold::core {

double WatchCurve::at(double t) const {
    const auto after = std::upper_bound(miles.begin(), miles.end(), t) - miles.begin();
    return after == 0 ? 1 : following[static_cast<std::size_t>(after) - 1];
}

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

} // namespace milehold::core
