// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/repeats.h"

#include "core/survival/numeric.h"
#include "core/survival/tally.h"

#include <algorithm>
#include <cmath>
#include <utility>

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
    explicit Walk(std::uint32_t vehicles) : own_(vehicles), amount_(vehicles), watching_(vehicles) {}

    bool isWatching(std::uint32_t vehicle) const { return watching_[vehicle] != 0; }
    double watched() const { return static_cast<double>(watched_); }
    double mean() const { return mean_; }
    double se() const { return std::sqrt(std::max(0.0, squares_)); }

    void open(std::uint32_t vehicle) {
        watching_[vehicle] = 1;
        ++watched_;
        sum_ += own_[vehicle];
        own_[vehicle] += drift_;
    }

    void close(std::uint32_t vehicle) {
        watching_[vehicle] = 0;
        --watched_;
        const double own = own_[vehicle] - drift_;
        own_[vehicle] = own;
        sum_ -= own;
        if (watched_ == 0)
            sum_ = 0; // nothing but rounding is left
    }

    // All comebacks at one mileage; `vehicles` may name one several times.
    void comeBack(std::span<const std::uint32_t> vehicles, std::span<const double> amounts) {
        const double n = watched();
        double d = 0;
        double crossed = 0; // sum of d_i U_i
        double square = 0;  // sum of d_i^2
        const auto add = [&](std::uint32_t vehicle, double amount) {
            crossed += amount * (own_[vehicle] - drift_);
            square += amount * amount;
            own_[vehicle] += amount / n;
        };
        if (vehicles.size() == 1) {
            d = amounts.front();
            add(vehicles.front(), d);
        } else {
            for (std::size_t i = 0; i < vehicles.size(); ++i) {
                d += amounts[i];
                amount_[vehicles[i]] += amounts[i];
            }
            for (const std::uint32_t vehicle : vehicles)
                add(vehicle, std::exchange(amount_[vehicle], 0.0)); // 0: counted already
        }
        const double share = d / n;
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
            const double u = watching_[i] != 0 ? own_[i] - drift_ : own_[i];
            sum += u * u;
        }
        squares_ = largest_ = sum;
        steps_ = 0;
    }

    std::vector<double> own_;             // U_i, plus the drift while watched
    std::vector<double> amount_;          // of several comebacks at one mileage, not yet counted
    std::vector<unsigned char> watching_; // not bits: they are asked for at every moment
    std::size_t watched_ = 0;
    double drift_ = 0;
    double sum_ = 0;
    double squares_ = 0;
    double largest_ = 0;    // of the squares since they were last added up anew
    std::size_t steps_ = 0; // since then
    double mean_ = 0;
};

// Moments of vehicles in ascending order, brought together so that walking along them jumps no more.
struct Moments {
    Moments(const std::vector<double>& at, const std::vector<std::uint32_t>& vehicles,
            const std::vector<double>& amounts = {}) {
        const std::vector<std::uint32_t> rows = sortedRows(at, {}, 1);
        miles.reserve(rows.size());
        vehicle.reserve(rows.size());
        for (const std::uint32_t row : rows) {
            miles.push_back(at[row]);
            vehicle.push_back(vehicles[row]);
        }
        for (std::size_t i = 0; i < rows.size() && !amounts.empty(); ++i)
            amount.push_back(amounts[rows[i]]);
    }

    std::size_t size() const { return miles.size(); }
    std::vector<double> miles;
    std::vector<std::uint32_t> vehicle;
    std::vector<double> amount;
};

// Opens and closes the windows before each comeback.
class Windows {
public:
    explicit Windows(const Histories::Windows& windows)
        : opening_(windows.from, windows.vehicle), closing_(windows.to, windows.vehicle) {}

    // Windows that end before this mileage close, those that begin before it (or at 0) open, in their own
    // order: a vehicle may leave one and enter the next.
    Result<void> moveTo(double miles, Walk& walk) {
        while (true) {
            const bool canClose = nextClose_ < closing_.size() && closing_.miles[nextClose_] < miles;
            const bool canOpen = nextOpen_ < opening_.size() &&
                                 (opening_.miles[nextOpen_] < miles || opening_.miles[nextOpen_] == 0);
            if (!canClose && !canOpen)
                return {};
            if (canClose && (!canOpen || closing_.miles[nextClose_] <= opening_.miles[nextOpen_]) &&
                walk.isWatching(closing_.vehicle[nextClose_])) {
                walk.close(closing_.vehicle[nextClose_++]);
                continue;
            }
            const std::uint32_t vehicle = opening_.vehicle[nextOpen_++];
            if (walk.isWatching(vehicle))
                return fail(ErrorCode::InvalidInput, "two windows of a vehicle overlap");
            walk.open(vehicle);
        }
    }

private:
    Moments opening_, closing_;
    std::size_t nextOpen_ = 0, nextClose_ = 0;
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

    const Histories::Comebacks& c = histories.comebacks;
    const Moments events(c.miles, c.vehicle, c.amount);
    Windows windows(histories.windows);
    MeanCurve curve;
    curve.level = level;
    curve.vehicles = histories.vehicles;
    for (const double to : histories.windows.to)
        curve.longestWatched = std::max(curve.longestWatched, to);

    Walk walk(histories.vehicles);
    const std::vector<double> ones(c.amount.empty() ? events.size() : 0, 1.0);
    const std::span<const double> amounts = c.amount.empty() ? ones : events.amount;
    for (std::size_t e = 0; e < events.size();) {
        const double miles = events.miles[e];
        if (auto moved = windows.moveTo(miles, walk); !moved)
            return failureOf(moved);
        const std::size_t first = e;
        for (; e < events.size() && events.miles[e] == miles; ++e)
            if (!walk.isWatching(events.vehicle[e]))
                return fail(ErrorCode::InvalidInput, "a comeback lies outside every window of its vehicle");
        curve.watched.push_back(walk.watched());
        walk.comeBack(std::span(events.vehicle).subspan(first, e - first), amounts.subspan(first, e - first));
        curve.miles.push_back(miles);
        curve.mean.push_back(walk.mean());
        curve.se.push_back(walk.se());
    }
    const double z = twoSidedDeviate(level);
    for (std::size_t i = 0; i < curve.miles.size(); ++i) {
        const double mean = curve.mean[i];
        const double reach = mean > 0 ? std::exp(z * curve.se[i] / mean) : 1;
        curve.lower.push_back(mean / reach);
        curve.upper.push_back(mean * reach);
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
