// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/repeats.h"

#include "core/survival/numeric.h"
#include "core/survival/tally.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace milehold::core {

namespace {

Result<void> checkWindows(const Histories& histories) {
    const Histories::Windows& w = histories.windows;
    if (w.from.size() != w.vehicle.size() || w.to.size() != w.vehicle.size())
        return fail(ErrorCode::InvalidInput, "the columns of the windows differ in length");
    for (std::size_t i = 0; i < w.vehicle.size(); ++i) {
        if (w.vehicle[i] >= histories.vehicles)
            return fail(ErrorCode::InvalidInput, "a window is of no vehicle");
        if (!std::isfinite(w.to[i]) || !(w.from[i] >= 0) || w.from[i] > w.to[i] ||
            (w.from[i] == w.to[i] && w.to[i] > 0))
            return fail(ErrorCode::InvalidInput, "a window does not end beyond its beginning");
    }
    return {};
}

Result<void> checkComebacks(const Histories& histories) {
    const Histories::Comebacks& c = histories.comebacks;
    if (c.miles.size() != c.vehicle.size() || (!c.amount.empty() && c.amount.size() != c.vehicle.size()))
        return fail(ErrorCode::InvalidInput, "the columns of the comebacks differ in length");
    for (std::size_t i = 0; i < c.vehicle.size(); ++i) {
        if (c.vehicle[i] >= histories.vehicles)
            return fail(ErrorCode::InvalidInput, "a comeback is of no vehicle");
        if (!std::isfinite(c.miles[i]) || c.miles[i] < 0)
            return fail(ErrorCode::InvalidInput, "the miles of a comeback must be finite and 0 or more");
        if (!c.amount.empty() && !(std::isfinite(c.amount[i]) && c.amount[i] >= 0))
            return fail(ErrorCode::InvalidInput, "what a comeback cost must be finite and 0 or more");
    }
    return {};
}

// Walks along the miles and keeps, of U_i = sum over the mileages watched of (d_i - d/n)/n, the sum of
// squares of all vehicles and the sum of those watched. U_i itself moves only when its vehicle comes back:
// between, all that are watched lose the same, which `drift` adds up.
class Walk {
public:
    explicit Walk(std::uint32_t vehicles)
        : own_(vehicles, 0.0), watching_(vehicles, false), amount_(vehicles, 0.0) {}

    bool isWatching(std::uint32_t vehicle) const { return watching_[vehicle]; }
    double watched() const { return static_cast<double>(watched_); }
    double mean() const { return mean_; }
    double se() const { return std::sqrt(std::max(0.0, squares_)); }

    void open(std::uint32_t vehicle) {
        watching_[vehicle] = true;
        ++watched_;
        sum_ += own_[vehicle];
        own_[vehicle] += drift_;
    }

    void close(std::uint32_t vehicle) {
        watching_[vehicle] = false;
        --watched_;
        own_[vehicle] -= drift_;
        sum_ -= own_[vehicle];
        if (watched_ == 0)
            sum_ = 0; // nothing but rounding is left
    }

    // All comebacks at one mileage; `vehicles` may name one several times.
    void comeBack(std::span<const std::uint32_t> vehicles, std::span<const double> amounts) {
        double d = 0;
        for (std::size_t i = 0; i < vehicles.size(); ++i) {
            d += amounts[i];
            amount_[vehicles[i]] += amounts[i];
        }
        const double n = watched();
        const double share = d / n;
        double crossed = 0; // sum of d_i U_i
        double square = 0;  // sum of d_i^2
        for (const std::uint32_t vehicle : vehicles) {
            const double amount = amount_[vehicle];
            if (amount == 0)
                continue; // counted already
            amount_[vehicle] = 0;
            crossed += amount * (own_[vehicle] - drift_);
            square += amount * amount;
            own_[vehicle] += amount / n;
        }
        // The moves of those watched add up to 0, so their sum stays.
        squares_ += 2 * (crossed - share * sum_) / n + (square - share * d) / (n * n);
        drift_ += share / n;
        mean_ += share;
        keepExact();
    }

private:
    // Adding up leaves rounding of the size of the largest sum there was. Where little of that is left, and
    // now and then anyway, the squares are added up anew; both are rare enough to cost nothing in all.
    void keepExact() {
        largest_ = std::max(largest_, squares_);
        if (++steps_ < own_.size() && squares_ > 1e-3 * largest_)
            return;
        double sum = 0;
        for (std::size_t i = 0; i < own_.size(); ++i) {
            const double u = watching_[i] ? own_[i] - drift_ : own_[i];
            sum += u * u;
        }
        squares_ = largest_ = sum;
        steps_ = 0;
    }

    std::vector<double> own_; // U_i, plus the drift while watched
    std::vector<bool> watching_;
    std::vector<double> amount_;
    std::size_t watched_ = 0;
    double drift_ = 0;
    double sum_ = 0;
    double squares_ = 0;
    double largest_ = 0;    // of the squares since they were last added up anew
    std::size_t steps_ = 0; // since then
    double mean_ = 0;
};

} // namespace

Result<MeanCurve> meanCurve(const Histories& histories, double level) {
    if (histories.vehicles == 0)
        return fail(ErrorCode::InvalidInput, "there is no vehicle");
    if (!(level > 0 && level < 1))
        return fail(ErrorCode::InvalidInput, "the level of the limits is not between 0 and 1");
    if (auto windows = checkWindows(histories); !windows)
        return failureOf(windows);
    if (auto comebacks = checkComebacks(histories); !comebacks)
        return failureOf(comebacks);

    const Histories::Windows& w = histories.windows;
    const Histories::Comebacks& c = histories.comebacks;
    const std::vector<std::uint32_t> opening = sortedRows(w.from, {}, 1);
    const std::vector<std::uint32_t> closing = sortedRows(w.to, {}, 1);
    const std::vector<std::uint32_t> events = sortedRows(c.miles, {}, 1);
    MeanCurve curve;
    curve.level = level;
    curve.vehicles = histories.vehicles;
    for (const double to : w.to)
        curve.longestWatched = std::max(curve.longestWatched, to);

    const double z = twoSidedDeviate(level);
    Walk walk(histories.vehicles);
    std::vector<std::uint32_t> vehicles;
    std::vector<double> amounts;
    std::size_t nextOpen = 0;
    std::size_t nextClose = 0;
    for (std::size_t e = 0; e < events.size();) {
        const double miles = c.miles[events[e]];
        // Windows that end before this mileage close, those that begin before it (or at 0) open, in their own
        // order: a vehicle may leave one and enter the next.
        const auto opens = [&](std::size_t row) { return w.from[row] < miles || w.from[row] == 0; };
        while (true) {
            const bool canClose = nextClose < closing.size() && w.to[closing[nextClose]] < miles;
            const bool canOpen = nextOpen < opening.size() && opens(opening[nextOpen]);
            if (!canClose && !canOpen)
                break;
            if (canClose && (!canOpen || w.to[closing[nextClose]] <= w.from[opening[nextOpen]]) &&
                walk.isWatching(w.vehicle[closing[nextClose]]))
                walk.close(w.vehicle[closing[nextClose++]]);
            else {
                const std::uint32_t vehicle = w.vehicle[opening[nextOpen++]];
                if (walk.isWatching(vehicle))
                    return fail(ErrorCode::InvalidInput, "two windows of a vehicle overlap");
                walk.open(vehicle);
            }
        }
        vehicles.clear();
        amounts.clear();
        for (; e < events.size() && c.miles[events[e]] == miles; ++e) {
            const std::uint32_t vehicle = c.vehicle[events[e]];
            if (!walk.isWatching(vehicle))
                return fail(ErrorCode::InvalidInput, "a comeback lies outside every window of its vehicle");
            vehicles.push_back(vehicle);
            amounts.push_back(c.amount.empty() ? 1 : c.amount[events[e]]);
        }
        curve.watched.push_back(walk.watched());
        walk.comeBack(vehicles, amounts);
        curve.miles.push_back(miles);
        curve.mean.push_back(walk.mean());
        curve.se.push_back(walk.se());
        const double reach = walk.mean() > 0 ? std::exp(z * walk.se() / walk.mean()) : 1;
        curve.lower.push_back(walk.mean() / reach);
        curve.upper.push_back(walk.mean() * reach);
    }
    return curve;
}

Result<MeanGap> meanGap(const MeanCurve& first, const MeanCurve& second, double miles) {
    if (!(miles >= 0) || miles > first.longestWatched || miles > second.longestWatched)
        return fail(ErrorCode::NotEstimable, "one of the groups is not watched as far");
    const auto at = [miles](const MeanCurve& curve, const std::vector<double>& column) {
        const auto after =
            std::upper_bound(curve.miles.begin(), curve.miles.end(), miles) - curve.miles.begin();
        return after == 0 ? 0.0 : column[static_cast<std::size_t>(after) - 1];
    };
    MeanGap gap;
    gap.value = at(first, first.mean) - at(second, second.mean);
    gap.se = std::hypot(at(first, first.se), at(second, second.se));
    const double reach = twoSidedDeviate(first.level) * gap.se;
    gap.lower = gap.value - reach;
    gap.upper = gap.value + reach;
    return gap;
}

} // namespace milehold::core
