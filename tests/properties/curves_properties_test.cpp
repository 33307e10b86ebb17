// SPDX-License-Identifier: GPL-3.0-or-later
// Conventions that hold for curves, comparisons, ends and repeats whatever the lives: rows may be shuffled,
// counts split and merged, units changed, groups taken together or alone; limits hold the estimate, widen
// with the level and fall.
#include "core/survival/compare.h"
#include "core/survival/curve.h"
#include "core/survival/ends.h"
#include "core/survival/histories.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <tuple>

namespace milehold::core {
namespace {

using Columns = std::vector<double>;
constexpr LimitMethod kMethods[] = {LimitMethod::Exact, LimitMethod::ExactMidP, LimitMethod::LogLog,
                                    LimitMethod::Log, LimitMethod::Linear};

bool close(double a, double b, double tolerance = 1e-11) {
    return std::abs(a - b) <= tolerance * (1 + std::max(std::abs(a), std::abs(b)));
}

bool close(const std::optional<double>& a, const std::optional<double>& b, double tolerance = 1e-11) {
    return a.has_value() == b.has_value() && (!a || close(*a, *b, tolerance));
}

// Whole miles 0 to 30 with many ties, up to three groups, four ends, and late entries and whole weights as
// asked.
Lives lives(bool late, bool weighted) {
    const auto n = *rc::gen::inRange<std::size_t>(1, 40);
    Lives all;
    all.endNames = {"holding", "came-back", "scrapped", "elsewhere"};
    all.groupNames = {"a", "b", "c"};
    all.stratumNames = {"x", "y"};
    for (std::size_t i = 0; i < n; ++i) {
        const int miles = *rc::gen::inRange(0, 30);
        all.miles.push_back(miles);
        all.end.push_back(*rc::gen::elementOf(std::vector<EndCode>{0, 0, 1, 1, 1, 2, 3}));
        all.group.push_back(*rc::gen::inRange(0U, 3U));
        all.stratum.push_back(*rc::gen::inRange(0U, 2U));
        if (late)
            all.entry.push_back(miles > 0 ? *rc::gen::inRange(0, miles) : 0);
        if (weighted)
            all.weight.push_back(*rc::gen::inRange(1, 4));
    }
    return all;
}

template <class T> std::vector<T> picked(const std::vector<T>& column, const std::vector<std::size_t>& rows) {
    std::vector<T> result;
    if (column.empty())
        return result;
    for (const std::size_t row : rows)
        result.push_back(column[row]);
    return result;
}

Lives rowsOf(const Lives& all, const std::vector<std::size_t>& rows) {
    Lives some = all;
    some.miles = picked(all.miles, rows);
    some.end = picked(all.end, rows);
    some.entry = picked(all.entry, rows);
    some.weight = picked(all.weight, rows);
    some.group = picked(all.group, rows);
    some.stratum = picked(all.stratum, rows);
    some.vehicle = picked(all.vehicle, rows);
    return some;
}

Lives shuffled(const Lives& all) {
    std::vector<std::size_t> rows(all.size());
    std::iota(rows.begin(), rows.end(), std::size_t{0});
    for (std::size_t i = rows.size(); i-- > 1;)
        std::swap(rows[i], rows[*rc::gen::inRange<std::size_t>(0, i + 1)]);
    return rowsOf(all, rows);
}

// A row of weight w as w rows of weight 1.
Lives unrolled(const Lives& all) {
    std::vector<std::size_t> rows;
    for (std::size_t i = 0; i < all.size(); ++i)
        rows.insert(rows.end(), static_cast<std::size_t>(all.weightOf(i)), i);
    Lives each = rowsOf(all, rows);
    each.weight.clear();
    return each;
}

Lives inUnit(Lives all, double unit) {
    for (Columns* column : {&all.miles, &all.entry})
        for (double& miles : *column)
            miles *= unit;
    return all;
}

Curve curveOf(const Lives& all, LimitMethod method, double level = 0.95) {
    const auto curve = survivalCurve(countsOfAll(all), {level, method});
    RC_ASSERT(curve.has_value());
    return *curve;
}

void sameCurve(const Curve& a, const Curve& b, double unit = 1) {
    RC_ASSERT(a.size() == b.size());
    for (std::size_t i = 0; i < a.size(); ++i) {
        const CurveStep x = a.step(i);
        const CurveStep y = b.step(i);
        RC_ASSERT(close(x.miles * unit, y.miles));
        RC_ASSERT(x.watched == y.watched && x.comebacks == y.comebacks && x.left == y.left);
        RC_ASSERT(close(x.survival, y.survival) && close(x.se, y.se) && close(x.lower, y.lower) &&
                  close(x.upper, y.upper));
        RC_ASSERT(close(x.cumulativeHazard, y.cumulativeHazard) &&
                  close(x.cumulativeHazardSe, y.cumulativeHazardSe));
    }
    for (const double p : {0.25, 0.5, 0.75}) {
        const CurveQuantile x = quantile(a, p);
        const CurveQuantile y = quantile(b, p);
        RC_ASSERT(x.miles.has_value() == y.miles.has_value() &&
                  (!x.miles || close(*x.miles * unit, *y.miles)));
    }
}

RC_GTEST_PROP(CountsProperty, AreTheSameFromColumnsFromGroupedRowsAndByAdding, ()) {
    const Lives all = lives(*rc::gen::arbitrary<bool>(), *rc::gen::arbitrary<bool>());
    const Counts counts = countsOfAll(all, true);
    std::vector<CountRow> rows;
    for (std::size_t i = 0; i < all.size(); ++i)
        rows.push_back({all.entryOf(i), all.miles[i], all.end[i], all.weightOf(i)});
    // As `GROUP BY entry, miles, end` gives them.
    std::sort(rows.begin(), rows.end(), [](const CountRow& a, const CountRow& b) {
        return std::tuple(a.end, a.miles, a.entry) < std::tuple(b.end, b.miles, b.entry);
    });
    Counts grouped = countsFromRows(rows, true);
    grouped.leftBy.resize(counts.leftBy.size(), Columns(counts.size(), 0.0)); // ends that no row has
    Counts added;
    for (const Counts& group : countsByGroup(all, true))
        added = merged(added, group);
    RC_ASSERT(grouped == counts);
    RC_ASSERT(added == counts);
    RC_ASSERT(countsOfAll(shuffled(all), true) == counts);
    RC_ASSERT(countsOfAll(unrolled(all), true) == counts);
}

// Counting and sorting are two ways through the code.
RC_GTEST_PROP(CountsProperty, AreTheSameInAnyUnit, ()) {
    const Lives all = lives(*rc::gen::arbitrary<bool>(), *rc::gen::arbitrary<bool>());
    Counts scaled = countsOfAll(inUnit(all, 1.609344), true);
    const Counts counts = countsOfAll(all, true);
    RC_ASSERT(scaled.comebacks == counts.comebacks && scaled.left == counts.left &&
              scaled.leftBy == counts.leftBy);
    RC_ASSERT(scaled.entered == counts.entered && scaled.watched() == counts.watched());
}

RC_GTEST_PROP(CountsProperty, WatchWhoeverIsBetweenEntryAndMiles, ()) {
    const Lives all = lives(true, true);
    const Counts counts = countsOfAll(all);
    const std::vector<double> watched = counts.watched();
    for (std::size_t i = 0; i < counts.size(); ++i) {
        double n = 0;
        for (std::size_t k = 0; k < all.size(); ++k)
            if ((all.entry[k] < counts.miles[i] || (counts.miles[i] == 0 && all.entry[k] == 0)) &&
                all.miles[k] >= counts.miles[i])
                n += all.weight[k];
        RC_ASSERT(watched[i] == n && counts.watchedAt(counts.miles[i]) == n);
    }
}

RC_GTEST_PROP(CurveProperty, DoesNotChangeWithTheOrderOrTheWeightsOfRowsOrTheUnit, ()) {
    const Lives all = lives(*rc::gen::arbitrary<bool>(), true);
    const LimitMethod method =
        *rc::gen::elementOf(std::vector<LimitMethod>(std::begin(kMethods), std::end(kMethods)));
    const Curve curve = curveOf(all, method);
    sameCurve(curve, curveOf(shuffled(all), method));
    sameCurve(curve, curveOf(unrolled(all), method));
    sameCurve(curve, curveOf(inUnit(all, 1.609344), method), 1.609344);
}

RC_GTEST_PROP(CurveProperty, OfAGroupIsTheSameAloneAndAmongOthers, ()) {
    const Lives all = lives(*rc::gen::arbitrary<bool>(), *rc::gen::arbitrary<bool>());
    const std::vector<Counts> together = countsByGroup(all);
    for (std::uint32_t g = 0; g < 3; ++g) {
        std::vector<std::size_t> rows;
        for (std::size_t i = 0; i < all.size(); ++i)
            if (all.group[i] == g)
                rows.push_back(i);
        RC_ASSERT(countsOfAll(rowsOf(all, rows)) == together[g]);
    }
}

RC_GTEST_PROP(CurveProperty, HasLimitsThatHoldTheEstimateAndWidenWithTheLevel, ()) {
    const Lives all = lives(*rc::gen::arbitrary<bool>(), *rc::gen::arbitrary<bool>());
    for (const LimitMethod method : kMethods) {
        const Curve narrow = curveOf(all, method, 0.9);
        const Curve wide = curveOf(all, method, 0.99);
        for (std::size_t i = 0; i < narrow.size(); ++i) {
            const CurveStep n = narrow.step(i);
            const CurveStep w = wide.step(i);
            RC_ASSERT(n.lower.has_value() == w.lower.has_value());
            if (!n.lower)
                continue;
            RC_ASSERT(*n.lower <= n.survival + 1e-15 && n.survival <= *n.upper + 1e-15);
            RC_ASSERT(*w.lower <= *n.lower + 1e-12 && *n.upper <= *w.upper + 1e-12);
            RC_ASSERT(*w.lower >= 0 && *w.upper <= 1);
        }
    }
}

RC_GTEST_PROP(CurveProperty, FallsAndSoDoTheExactLimits, ()) {
    const Lives all = lives(*rc::gen::arbitrary<bool>(), *rc::gen::arbitrary<bool>());
    for (const LimitMethod method : {LimitMethod::Exact, LimitMethod::ExactMidP}) {
        const Curve curve = curveOf(all, method);
        double survival = 1, lower = curve.lowerBeforeFirst, upper = 1;
        for (std::size_t i = 0; i < curve.size(); ++i) {
            RC_ASSERT(curve.survival[i] <= survival && curve.lower[i] <= lower && curve.upper[i] <= upper);
            survival = curve.survival[i];
            lower = curve.lower[i];
            upper = curve.upper[i];
        }
        RC_ASSERT(lower == 0);
    }
}

// Without anybody leaving early or late: Clopper-Pearson at every step. The limits of a share rise with it,
// so that it is enough that the binomial tails at them are right.
RC_GTEST_PROP(CurveProperty, HasExactBinomialLimitsWhenNobodyLeavesEarly, ()) {
    const auto n = *rc::gen::inRange(1, 40);
    Lives all;
    for (int i = 0; i < n; ++i) {
        all.miles.push_back(*rc::gen::inRange(0, 20));
        all.end.push_back(kCameBack);
    }
    const Curve curve = curveOf(all, LimitMethod::Exact);
    const auto atMost = [n](double quiet, double share) { // P(X <= quiet), X binomial
        double sum = 0;
        for (int k = 0; k <= static_cast<int>(quiet); ++k)
            sum += std::exp(std::lgamma(n + 1.0) - std::lgamma(k + 1.0) - std::lgamma(n - k + 1.0) +
                            k * std::log(share) + (n - k) * std::log1p(-share));
        return sum;
    };
    double gone = 0;
    for (std::size_t i = 0; i < curve.size(); ++i) {
        gone += curve.comebacksAt[i];
        const double quiet = n - gone;
        if (curve.upper[i] < 1)
            RC_ASSERT(close(atMost(quiet, curve.upper[i]), 0.025, 1e-9));
        if (curve.lower[i] > 0)
            RC_ASSERT(close(1 - atMost(quiet - 1, curve.lower[i]), 0.025, 1e-9));
    }
}

RC_GTEST_PROP(CurveProperty, IsThePartBeforeTimesTheConditionalCurveBeyond, ()) {
    const Lives all = lives(false, true);
    const Counts counts = countsOfAll(all);
    const double given = *rc::gen::inRange(0, 30);
    const double at = given + *rc::gen::inRange(0, 10);
    const Curve curve = curveOf(all, LimitMethod::Log);
    const auto conditional = conditionalCurve(counts, given, {&at, 1}, {0.95, LimitMethod::Log});
    if (!conditional || at > counts.longestWatched())
        return;
    RC_ASSERT(close(*valueAt(curve, counts, given).survival * *conditional->at[0].survival,
                    *valueAt(curve, counts, at).survival));
}

RC_GTEST_PROP(RestrictedMeanProperty, IsTheAreaUnderTheSteps, ()) {
    const Lives all = lives(false, true);
    const Curve curve = curveOf(all, LimitMethod::Log);
    if (curve.longestWatched == 0)
        return;
    const double tau = curve.longestWatched * *rc::gen::inRange(1, 101) / 100;
    double area = 0;
    const Counts counts = countsOfAll(all);
    constexpr int kParts = 3000; // of a mile, so that whole miles fall on edges
    for (double from = 0; from < tau; from += 1.0 / kParts * 10)
        area += *valueAt(curve, counts, std::min(from + 5.0 / kParts, tau)).survival *
                (std::min(from + 10.0 / kParts, tau) - from);
    RC_ASSERT(close(restrictedMean(curve, tau)->mean, area, 2e-3));
}

RC_GTEST_PROP(CompareProperty, DoesNotChangeWithTheOrderOrTheWeightsOfRowsOrTheUnit, ()) {
    const Lives all = lives(*rc::gen::arbitrary<bool>(), true);
    const CompareOptions options{*rc::gen::elementOf(std::vector<double>{0, 1, 0.5}), {1, 2, 3}};
    const auto result = compare(countsByStratum(all), options);
    RC_ASSERT(result.has_value());
    for (const Lives& other : {shuffled(all), unrolled(all), inUnit(all, 1.609344)}) {
        const auto same = compare(countsByStratum(other), options);
        RC_ASSERT(close(result->chiSquare, same->chiSquare, 1e-9) && close(result->p, same->p, 1e-9) &&
                  result->df == same->df);
        RC_ASSERT(result->trend.has_value() == same->trend.has_value());
        for (std::size_t g = 0; g < 3; ++g)
            RC_ASSERT(close(result->groups[g].observed, same->groups[g].observed) &&
                      close(result->groups[g].expected, same->groups[g].expected));
    }
}

RC_GTEST_PROP(CompareProperty, ExpectsAsManyComebacksAsItObserves, ()) {
    const Lives all = lives(*rc::gen::arbitrary<bool>(), *rc::gen::arbitrary<bool>());
    const auto result =
        compare(countsByStratum(all), {*rc::gen::elementOf(std::vector<double>{0, 1, -0.5}), {}});
    double observed = 0, expected = 0;
    for (const ComparedGroup& group : result->groups) {
        observed += group.observed;
        expected += group.expected;
    }
    RC_ASSERT(close(observed, expected, 1e-10));
}

RC_GTEST_PROP(CompareProperty, HasAPermutationPThatIsAChance, ()) {
    const Lives all = lives(*rc::gen::arbitrary<bool>(), false);
    const auto p = permutationP(all, {}, {200, 3});
    if (p)
        RC_ASSERT(*p > 0 && *p <= 1);
}

// Convention 11: the incidences add up to 1 - S, and each only rises.
RC_GTEST_PROP(EndsProperty, AddUpToWhatIsNoLongerFree, ()) {
    const Lives all = lives(*rc::gen::arbitrary<bool>(), *rc::gen::arbitrary<bool>());
    const EndCode ends[] = {1, 2, 3};
    const auto curves = endCurves(countsOfAll(all, true), ends);
    RC_ASSERT(curves.has_value());
    Columns last(3, 0.0);
    for (std::size_t i = 0; i < curves->miles.size(); ++i) {
        double sum = 0;
        for (std::size_t e = 0; e < 3; ++e) {
            RC_ASSERT(curves->ends[e].incidence[i] >= last[e] && std::isfinite(curves->ends[e].se[i]));
            last[e] = curves->ends[e].incidence[i];
            sum += last[e];
        }
        RC_ASSERT(std::abs(sum - (1 - curves->survival[i])) < 1e-14);
    }
}

RC_GTEST_PROP(EndsProperty, DoNotChangeWithTheOrderOrTheWeightsOfRowsOrTheUnit, ()) {
    const Lives all = lives(*rc::gen::arbitrary<bool>(), true);
    const EndCode ends[] = {1, 2, 3};
    const auto curves = endCurves(countsOfAll(all, true), ends);
    for (const Lives& other : {shuffled(all), unrolled(all), inUnit(all, 1.609344)}) {
        const auto same = endCurves(countsOfAll(other, true), ends);
        RC_ASSERT(same->miles.size() == curves->miles.size());
        for (std::size_t e = 0; e < 3; ++e)
            for (std::size_t i = 0; i < curves->miles.size(); ++i)
                RC_ASSERT(close(same->ends[e].incidence[i], curves->ends[e].incidence[i]) &&
                          close(same->ends[e].se[i], curves->ends[e].se[i], 1e-9));
    }
}

RC_GTEST_PROP(RepeatsProperty, DoNotChangeWithTheOrderOfRowsAndAverageWhatEachGroupHas, ()) {
    Lives all = lives(false, false);
    for (std::size_t i = 0; i < all.size(); ++i)
        all.vehicle.push_back(*rc::gen::inRange(0U, 8U));
    const auto groups = historiesByGroup(all);
    const auto others = historiesByGroup(shuffled(all));
    for (std::size_t g = 0; g < groups.size(); ++g) {
        if (groups[g].vehicles == 0)
            continue;
        const auto curve = meanCurve(groups[g]);
        const auto same = meanCurve(others[g]);
        RC_ASSERT(curve.has_value() && same.has_value());
        RC_ASSERT(curve->miles == same->miles && curve->vehicles == same->vehicles);
        double mean = 0;
        for (std::size_t i = 0; i < curve->miles.size(); ++i) {
            RC_ASSERT(close(curve->mean[i], same->mean[i]) && close(curve->se[i], same->se[i], 1e-9));
            RC_ASSERT(curve->mean[i] > mean && curve->lower[i] <= curve->mean[i] &&
                      curve->mean[i] <= curve->upper[i]);
            mean = curve->mean[i];
        }
    }
}

} // namespace
} // namespace milehold::core
