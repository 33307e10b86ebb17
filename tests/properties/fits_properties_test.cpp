// SPDX-License-Identifier: GPL-3.0-or-later
// Conventions that hold for every fit whatever the lives: rows may be shuffled, split and merged, units
// changed, groups fitted together or alone; limits hold the estimate and widen with the level.
#include "core/survival/counts.h"
#include "core/survival/cox.h"
#include "core/survival/life_fit.h"
#include "core/survival/turnbull.h"
#include "core/warranty/terms.h"
#include "core/watch/funnel.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>

namespace milehold::core {
namespace {

constexpr double kOpen = std::numeric_limits<double>::infinity();

bool close(double a, double b, double tolerance) {
    return std::abs(a - b) <= tolerance * (1 + std::max(std::abs(a), std::abs(b)));
}

/// A row: miles 0..40, what became of it, late entry.
Observation observation(bool intervals, bool late) {
    const double miles = *rc::gen::inRange(0, 40);
    const int kind = *rc::gen::inRange(0, intervals ? 4 : 2);
    const double entry =
        late && miles > 1 && *rc::gen::arbitrary<bool>() ? *rc::gen::inRange(0, static_cast<int>(miles)) : 0;
    const double weight = *rc::gen::inRange(1, 4);
    if (kind == 0)
        return {miles, kOpen, entry, weight};
    if (kind == 1)
        return {miles, miles, entry, weight};
    return {miles, miles + *rc::gen::inRange(1, 15), entry, weight};
}

std::vector<Observation> observations(bool intervals, bool late, int least = 1) {
    const int n = least + *rc::gen::inRange(0, 30);
    std::vector<Observation> rows;
    for (int i = 0; i < n; ++i)
        rows.push_back(observation(intervals, late));
    return rows;
}

/// The same lives: shuffled, and every weight split in two.
std::vector<Observation> rearranged(std::vector<Observation> rows) {
    const std::size_t n = rows.size();
    for (std::size_t i = 0; i < n; ++i) {
        if (rows[i].weight < 2)
            continue;
        rows[i].weight -= 1;
        rows.push_back(rows[i]);
        rows.back().weight = 1;
    }
    const auto turn = *rc::gen::inRange<std::size_t>(0, rows.size());
    std::rotate(rows.begin(), rows.begin() + static_cast<std::ptrdiff_t>(turn), rows.end());
    std::reverse(rows.begin() + static_cast<std::ptrdiff_t>(rows.size() / 2), rows.end());
    return rows;
}

LifeModel anyModel() {
    return *rc::gen::element(LifeModel::Weibull, LifeModel::Lognormal, LifeModel::Exponential);
}

bool sameFit(const Result<LifeFit>& a, const Result<LifeFit>& b, double logUnit, double tolerance) {
    if (a.has_value() != b.has_value())
        return false;
    return !a ||
           (close(a->location + logUnit, b->location, tolerance) && close(a->scatter, b->scatter, tolerance));
}

RC_GTEST_PROP(FitProperties, RowsMayBeShuffledSplitAndMerged, ()) {
    const auto rows = observations(true, true);
    const LifeModel model = anyModel();
    RC_ASSERT(sameFit(fitLife(lifeData(rows), model), fitLife(lifeData(rearranged(rows)), model), 0, 1e-6));
}

RC_GTEST_PROP(FitProperties, TheUnitOnlyMovesTheScale, ()) {
    // Without comebacks at 0, whose first mile is one of the table's unit.
    auto rows = observations(true, true);
    for (Observation& row : rows)
        if (row.isExact() && row.lower == 0)
            row.lower = row.upper = 1;
    auto scaled = rows;
    const double unit = *rc::gen::element(1e-6, 1.609344, 1e5);
    for (Observation& row : scaled) {
        row.lower *= unit;
        row.upper *= unit;
        row.entry *= unit;
    }
    const LifeModel model = anyModel();
    RC_ASSERT(
        sameFit(fitLife(lifeData(rows), model), fitLife(lifeData(scaled), model), std::log(unit), 1e-6));
}

RC_GTEST_PROP(FitProperties, CountsSayTheSameAsRows, ()) {
    const auto rows = observations(false, true);
    std::vector<CountRow> grouped;
    for (const Observation& row : rows)
        grouped.push_back({row.entry, row.lower, row.cameBack() ? kCameBack : kHolding, row.weight});
    const LifeModel model = anyModel();
    RC_ASSERT(
        sameFit(fitLife(lifeData(rows), model), fitLife(lifeData(countsFromRows(grouped)), model), 0, 1e-6));
}

RC_GTEST_PROP(FitProperties, LimitsHoldTheEstimateAndWidenWithTheLevel, ()) {
    const auto rows = observations(true, false, 8);
    const LifeModel model = anyModel();
    const LifeData data = lifeData(rows);
    const auto fit = fitLife(data, model);
    RC_CLASSIFY(fit.has_value(), "fitted");
    if (!fit)
        return;
    const double p = *rc::gen::element(0.01, 0.1, 0.5, 0.9);
    for (const bool profile : {false, true}) {
        const auto limits = [&](double level) {
            return profile ? profileQuantile(data, *fit, p, level) : waldQuantile(*fit, p, level);
        };
        const LifeQuantile narrow = limits(0.8), wide = limits(0.95);
        if (!narrow.miles)
            continue;
        if (narrow.lower)
            RC_ASSERT(*narrow.lower <= *narrow.miles);
        if (narrow.upper)
            RC_ASSERT(*narrow.upper >= *narrow.miles);
        if (wide.lower) {
            RC_ASSERT(narrow.lower.has_value());
            RC_ASSERT(*wide.lower <= *narrow.lower * (1 + 1e-9));
        }
        if (wide.upper) {
            RC_ASSERT(narrow.upper.has_value());
            RC_ASSERT(*wide.upper >= *narrow.upper * (1 - 1e-9));
        }
    }
}

RC_GTEST_PROP(FitProperties, NothingIsEverNotANumber, ()) {
    const auto rows = observations(true, true);
    const LifeData data = lifeData(rows);
    const auto fit = fitLife(data, anyModel());
    if (!fit) {
        RC_ASSERT(!fit.error().detail.empty());
        return;
    }
    for (const double value :
         {fit->location, fit->scatter, fit->logLikelihood, fit->covariance[0][0], fit->covariance[1][1],
          survivalAt(*fit, 10, 0.95).lower, survivalAt(*fit, 1e9, 0.95).upper})
        RC_ASSERT(std::isfinite(value));
    const LifeQuantile life = profileQuantile(data, *fit, 0.5, 0.95);
    for (const auto& value : {life.miles, life.lower, life.upper})
        RC_ASSERT(!value || std::isfinite(*value));
}

double massIn(const Turnbull& estimate, double to) {
    double sum = 0;
    for (const MassInterval& interval : estimate.intervals)
        if (interval.to <= to)
            sum += interval.mass;
    return sum;
}

RC_GTEST_PROP(TurnbullProperties, RowsMayBeShuffledSplitAndMerged, ()) {
    const auto rows = observations(true, false);
    const auto one = turnbull(rows), two = turnbull(rearranged(rows));
    RC_ASSERT(one && two);
    RC_ASSERT(close(one->logLikelihood, two->logLikelihood, 1e-9));
    RC_ASSERT(one->intervals.size() == two->intervals.size());
}

RC_GTEST_PROP(TurnbullProperties, IsTheProductLimitWhenNothingIsAnInterval, ()) {
    const auto rows = observations(false, false);
    const auto estimate = turnbull(rows);
    RC_ASSERT(estimate.has_value());
    double survival = 1;
    for (double t = 0; t < 40; ++t) {
        double watched = 0, comebacks = 0;
        for (const Observation& row : rows) {
            watched += row.lower >= t ? row.weight : 0;
            comebacks += row.lower == t && row.cameBack() ? row.weight : 0;
        }
        if (comebacks > 0)
            survival *= 1 - comebacks / watched;
        RC_ASSERT(close(1 - massIn(*estimate, t), survival, 1e-9));
    }
}

RC_GTEST_PROP(TurnbullProperties, SurvivalNeverRises, ()) {
    const auto estimate = turnbull(observations(true, false));
    RC_ASSERT(estimate.has_value());
    SurvivalBounds before;
    for (double t = 0; t < 60; t += 0.5) {
        const SurvivalBounds at = boundsAt(*estimate, t);
        RC_ASSERT(at.least <= at.most);
        RC_ASSERT(at.most <= before.most + 1e-12);
        RC_ASSERT(at.least <= before.least + 1e-12);
        before = at;
    }
}

struct Regression {
    Lives lives;
    FactorTable factors;
};

Regression regression() {
    Regression r;
    r.factors.names = {"a", "b"};
    const int n = *rc::gen::inRange(8, 40);
    for (int i = 0; i < n; ++i) {
        r.lives.miles.push_back(*rc::gen::inRange(1, 25));
        r.lives.end.push_back(*rc::gen::element(kCameBack, kCameBack, kHolding));
        r.lives.vehicle.push_back(static_cast<std::uint32_t>(i / 2));
        r.factors.values.push_back(*rc::gen::inRange(0, 2));
        r.factors.values.push_back(*rc::gen::inRange(0, 10));
    }
    return r;
}

RC_GTEST_PROP(CoxProperties, RowsMayBeShuffledAndColumnsRescaled, ()) {
    const Regression one = regression();
    Regression two = one;
    const std::size_t n = one.lives.size();
    const double scale = *rc::gen::element(1e-5, -2.0, 1e4),
                 shift = scale * *rc::gen::element(-3.0, 0.0, 1e5);
    for (std::size_t i = 0; i < n; ++i) {
        const std::size_t from = n - 1 - i;
        two.lives.miles[i] = one.lives.miles[from];
        two.lives.end[i] = one.lives.end[from];
        two.lives.vehicle[i] = one.lives.vehicle[from];
        two.factors.values[2 * i] = one.factors.values[2 * from];
        two.factors.values[2 * i + 1] = shift + scale * one.factors.values[2 * from + 1];
    }
    CoxOptions options;
    options.ties = *rc::gen::element(TiesRule::Efron, TiesRule::Breslow);
    options.clustered = true;
    const auto a = fitCox(one.lives, one.factors, options), b = fitCox(two.lives, two.factors, options);
    RC_ASSERT(a.has_value() == b.has_value());
    if (!a)
        return;
    RC_ASSERT(close(a->logLikelihood, b->logLikelihood, 1e-8));
    RC_ASSERT(close(a->terms[0].coefficient, b->terms[0].coefficient, 1e-5));
    RC_ASSERT(close(a->terms[1].coefficient, b->terms[1].coefficient * scale, 1e-5));
    RC_ASSERT(close(*a->terms[0].robustSe, *b->terms[0].robustSe, 1e-5));
}

RC_GTEST_PROP(CoxProperties, OneStratumIsNone, ()) {
    const Regression r = regression();
    CoxOptions plain, stratified;
    stratified.stratified = true;
    const auto a = fitCox(r.lives, r.factors, plain), b = fitCox(r.lives, r.factors, stratified);
    RC_ASSERT(a.has_value() == b.has_value());
    if (a)
        RC_ASSERT(a->logLikelihood == b->logLikelihood);
}

RC_GTEST_PROP(CoxProperties, WhatHasNoFiniteValueIsRefusedByName, ()) {
    const Regression r = regression();
    const auto fit = fitCox(r.lives, r.factors);
    if (!fit) {
        RC_ASSERT(fit.error().detail.find('a') == 0 || fit.error().detail.find('b') == 0 ||
                  fit.error().detail.find("no comeback") == 0);
        return;
    }
    for (const CoxTerm& term : fit->terms)
        RC_ASSERT(std::isfinite(term.coefficient) && std::isfinite(term.se) && term.se > 0 &&
                  std::abs(term.coefficient) < 30);
}

RC_GTEST_PROP(FunnelProperties, LimitsRiseWithTheShareAndNarrowWithTheExpected, ()) {
    const double expected = *rc::gen::inRange(1, 200);
    const double low = poissonFunnelLimit(expected, 0.025), high = poissonFunnelLimit(expected, 0.975);
    RC_ASSERT(low <= high);
    RC_ASSERT(poissonFunnelLimit(expected, 0.001) <= low);
    RC_ASSERT(poissonFunnelLimit(expected, 0.999) >= high);
    RC_ASSERT(poissonFunnelLimit(4 * expected, 0.975) <= high);
}

RC_GTEST_PROP(WarrantyProperties, LongerTermsNeverCostLess, ()) {
    LifeFit fit;
    fit.model = anyModel();
    fit.location = std::log(*rc::gen::inRange(1000, 200000));
    fit.scatter = fit.model == LifeModel::Exponential ? 1 : 0.1 * *rc::gen::inRange(1, 30);
    const std::vector<double> drivers = {4000, 12000, 30000};
    const double months = *rc::gen::inRange(1, 60), miles = *rc::gen::inRange(1000, 60000);
    const double share = warrantyShare(fit, {months, miles}, drivers);
    RC_ASSERT(share >= 0 && share <= 1);
    RC_ASSERT(warrantyShare(fit, {months + 6, miles}, drivers) >= share);
    RC_ASSERT(warrantyShare(fit, {months, miles + 5000}, drivers) >= share);
}

} // namespace
} // namespace milehold::core
