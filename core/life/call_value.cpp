// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/life/calls.h"
#include "core/survival/beta_product.h"

#include <algorithm>

namespace milehold::core {

CallValuer::CallValuer(const Counts& counts, double horizon, double level)
    : horizon_(horizon), tail_((1 - level) / 2) {
    const auto watched = counts.watched();
    double survival = 1;
    for (std::size_t i = 0; i < counts.size(); ++i) {
        if (counts.miles[i] > horizon && watchedBeyond_ == 0)
            watchedBeyond_ = watched[i];
        if (counts.comebacks[i] <= 0)
            continue;
        survival *= 1 - counts.comebacks[i] / watched[i];
        all_.push_back(counts.miles[i]);
        survival_.push_back(survival);
        if (counts.miles[i] > horizon)
            continue;
        miles_.push_back(counts.miles[i]);
        watched_.push_back(watched[i]);
        comebacks_.push_back(counts.comebacks[i]);
    }
    widthNow_ = widthWith(0, 0, std::nullopt, false);
}

double CallValuer::survivalAt(double miles) const {
    const auto after = std::upper_bound(all_.begin(), all_.end(), miles) - all_.begin();
    return after == 0 ? 1.0 : survival_[static_cast<std::size_t>(after) - 1];
}

double CallValuer::chanceQuiet(double from, double to) const {
    const double before = survivalAt(from);
    return before > 0 ? survivalAt(to) / before : 0.0;
}

/// Width of the limits at the horizon when one more life was watched at the comebacks [begin, end), came back
/// at `failed` if given, and was watched beyond the horizon if so.
double CallValuer::widthWith(std::size_t begin, std::size_t end, std::optional<std::size_t> failed,
                             bool beyond) const {
    BetaProduct product;
    for (std::size_t i = 0; i < miles_.size(); ++i) {
        const double n = watched_[i] + (i >= begin && i < end ? 1 : 0);
        const double d = comebacks_[i] + (failed == i ? 1 : 0);
        product.multiply(n - d + 1, d);
    }
    const BetaQuantile below(tail_, BetaQuantile::Tail::Lower);
    const BetaQuantile above(tail_, BetaQuantile::Tail::Upper);
    const double upper = miles_.empty() ? 1.0 : above(product.matched());
    const double n = watchedBeyond_ + (beyond ? 1 : 0);
    if (n <= 0)
        return upper; // nothing is watched beyond: the lower limit is 0
    product.multiply(n, 1);
    return upper - below(product.matched());
}

CallValue CallValuer::valueOf(double from, double to) {
    CallValue value;
    value.widthNow = widthNow_;
    const double end = std::min(to, horizon_);
    const auto indexAfter = [&](double miles) {
        return static_cast<std::size_t>(std::upper_bound(miles_.begin(), miles_.end(), miles) -
                                        miles_.begin());
    };
    const std::size_t first = indexAfter(from);
    const std::size_t last = std::max(indexAfter(end), first);
    value.chanceQuiet = chanceQuiet(from, std::max(end, from));
    value.widthIfQuiet = widthWith(first, last, std::nullopt, to > horizon_ && from <= horizon_);
    value.expectedWidth = value.chanceQuiet * value.widthIfQuiet;
    const double atFrom = survivalAt(from);
    for (std::size_t k = first; k < last && atFrom > 0; ++k) {
        const double mass = ((k == 0 ? 1.0 : survival_[k - 1]) - survival_[k]) / atFrom;
        value.expectedWidth += mass * widthWith(first, k + 1, k, false);
    }
    return value;
}

} // namespace milehold::core
