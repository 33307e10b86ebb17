// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/life_fit.h"
#include "core/survival/numeric.h"
#include "tests/core/survival/published.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace milehold::core {
namespace {

using published::kOpen;
using published::relative;

struct Expected {
    const char* name;
    std::vector<Observation> rows;
    LifeModel model;
    double logLikelihood, location, scatter, seLocation, seLogScatter, covariance;
};

// R survival 3.5-3: survreg() on the published tables (its covariance is that of location and log scale), ten
// digits.
const std::vector<Expected> kFieldTables = {
    {"shock absorber", published::observations(published::kShockAbsorber), LifeModel::Weibull, -123.9953612,
     10.22986321, 0.3164086039, 0.109890478, 0.231237228, 0.01261167},
    {"shock absorber", published::observations(published::kShockAbsorber), LifeModel::Lognormal, -124.60855,
     10.14477069, 0.5300680304, 0.1441751721, 0.2125817954, 0.01837465047},
    {"shock absorber", published::observations(published::kShockAbsorber), LifeModel::Exponential,
     -131.4237282, 10.94761166, 1, 0, 0, 0},
    {"generator fan", published::observations(published::kGeneratorFan), LifeModel::Weibull, -135.1527199,
     10.17720426, 0.9447814454, 0.465889661, 0.2534385351, 0.09572761122},
    {"generator fan", published::observations(published::kGeneratorFan), LifeModel::Lognormal, -134.5496482,
     10.14323909, 1.679592614, 0.5210957621, 0.2317568398, 0.1000000111},
    {"generator fan", published::observations(published::kGeneratorFan), LifeModel::Exponential, -135.1772225,
     10.26476854, 1, 0, 0, 0},
    {"bearing cage", published::observations(published::kBearingCage), LifeModel::Weibull, -76.43689636,
     9.375191724, 0.4913235672, 0.8351405968, 0.3270617697, 0.2651474003},
    {"bearing cage", published::observations(published::kBearingCage), LifeModel::Lognormal, -76.58796699,
     10.75405296, 1.554267577, 1.259871887, 0.311136194, 0.3857851372},
    {"vehicle component", published::observations(published::kVehicleComponent), LifeModel::Weibull,
     -128.9738323, 11.8104418, 0.8662308528, 0.3176149956, 0.2565260493, 0.04123906288},
    {"vehicle component", published::observations(published::kVehicleComponent), LifeModel::Lognormal,
     -129.0290243, 11.54771348, 1.38475134, 0.3906280517, 0.2316063185, 0.05137356647},
};

LifeFit fitted(const std::vector<Observation>& rows, LifeModel model) {
    const auto fit = fitLife(lifeData(rows), model);
    EXPECT_TRUE(fit) << fit.error().detail;
    return fit ? *fit : LifeFit{};
}

TEST(LifeFit, MatchesSurvregOnPublishedTables) {
    for (const Expected& e : kFieldTables) {
        SCOPED_TRACE(e.name);
        const LifeFit fit = fitted(e.rows, e.model);
        EXPECT_LT(relative(fit.logLikelihood, e.logLikelihood), 1e-9);
        EXPECT_LT(relative(fit.location, e.location), 1e-8);
        EXPECT_LT(relative(fit.scatter, e.scatter), 1e-8);
        if (e.model == LifeModel::Exponential)
            continue;
        EXPECT_LT(relative(std::sqrt(fit.covariance[0][0]), e.seLocation), 1e-6);
        EXPECT_LT(relative(std::sqrt(fit.covariance[1][1]), e.seLogScatter), 1e-6);
        EXPECT_LT(relative(fit.covariance[0][1], e.covariance), 1e-6);
    }
}

TEST(LifeFit, MatchesTheInspectionTablesOfTheLiterature) {
    // R survival 3.5-3, survreg(Surv(type = "interval2")) on the tables of Nelson 1982 and Meeker & Escobar
    // 1998.
    const LifeFit wheel = fitted(published::observations(published::kTurbineWheel), LifeModel::Weibull);
    EXPECT_LT(relative(wheel.shape(), 2.175779909), 1e-8);
    EXPECT_LT(relative(wheel.scale(), 46.77723025), 1e-8);
    EXPECT_LT(relative(wheel.logLikelihood, -189.2871934), 1e-9);
    const LifeFit tube = fitted(published::kHeatExchanger, LifeModel::Weibull);
    EXPECT_LT(relative(tube.shape(), 1.345515028), 1e-8);
    EXPECT_LT(relative(tube.scale(), 23.61992392), 1e-8);
    EXPECT_LT(relative(tube.logLikelihood, -54.41470533), 1e-9);
}

TEST(LifeFit, ExponentialMeanIsTotalDistanceOverComebacks) {
    // Closed form: mean = sum(t - entry) / d, variance of its logarithm 1 / d, log likelihood -d ln(mean) -
    // d.
    const std::vector<Observation> rows = {
        {10, 10, 2, 1}, {40, 40, 0, 2}, {70, kOpen, 30, 3}, {5, kOpen, 0, 0.5}};
    const double total = 8 + 80 + 120 + 2.5;
    const LifeFit fit = fitted(rows, LifeModel::Exponential);
    EXPECT_NEAR(fit.scale(), total / 3, 1e-10);
    EXPECT_NEAR(fit.covariance[0][0], 1.0 / 3, 1e-12);
    EXPECT_NEAR(fit.logLikelihood, -3 * std::log(total / 3) - 3, 1e-11);
}

TEST(LifeFit, LognormalWithoutCensoringIsMeanAndSpreadOfTheLogarithms) {
    // Closed form: location = mean of ln t, scatter^2 = mean square deviation; var = s2/n and 1/(2n).
    const double miles[] = {1200, 5400, 8800, 20100, 41000};
    std::vector<Observation> rows;
    double mean = 0;
    for (double t : miles) {
        rows.push_back({t, t, 0, 1});
        mean += std::log(t) / 5;
    }
    double square = 0;
    for (double t : miles)
        square += std::pow(std::log(t) - mean, 2) / 5;
    const LifeFit fit = fitted(rows, LifeModel::Lognormal);
    EXPECT_NEAR(fit.location, mean, 1e-11);
    EXPECT_NEAR(fit.scatter, std::sqrt(square), 1e-11);
    EXPECT_NEAR(fit.covariance[0][0], square / 5, 1e-11);
    EXPECT_NEAR(fit.covariance[1][1], 0.1, 1e-11);
    EXPECT_NEAR(fit.covariance[0][1], 0, 1e-11);
}

TEST(LifeFit, ExponentialProfileLimitsSolveTheLikelihoodRatio) {
    // 2 d (mean/x - 1 + ln(x/mean)) = z^2 at a limit x of the mean; the 1 - 1/e life is the mean.
    const std::vector<Observation> rows = {{30, 30, 0, 1}, {50, 50, 0, 1}, {100, kOpen, 0, 4}};
    const LifeData data = lifeData(rows);
    const auto fit = fitLife(data, LifeModel::Exponential);
    ASSERT_TRUE(fit);
    const LifeQuantile life = profileQuantile(data, *fit, 1 - std::exp(-1.0), 0.95);
    ASSERT_TRUE(life.miles && life.lower && life.upper);
    EXPECT_NEAR(*life.miles, 240, 1e-9);
    for (double x : {*life.lower, *life.upper})
        EXPECT_NEAR(4 * (240 / x - 1 + std::log(x / 240)), std::pow(1.959963984540054, 2), 1e-9);
    EXPECT_LT(*life.lower, 240);
    EXPECT_GT(*life.upper, 240);
}

TEST(LifeFit, ProfileLimitsFallByTheChiSquareAndHoldTheBestPoint) {
    // Definition: no parameters whose p-life lies outside the limits come within z^2/2 of the top. Checked on
    // a grid.
    const LifeData data = lifeData(published::observations(published::kShockAbsorber));
    for (LifeModel model : {LifeModel::Weibull, LifeModel::Lognormal}) {
        const auto fit = fitLife(data, model);
        ASSERT_TRUE(fit);
        const double q = standardQuantile(model, 0.1);
        const LifeQuantile life = profileQuantile(data, *fit, 0.1, 0.9);
        ASSERT_TRUE(life.lower && life.upper);
        const double cut = fit->logLikelihood - 0.5 * std::pow(1.6448536269514722, 2);
        for (double limit : {*life.lower, *life.upper}) {
            double best = -kOpen;
            for (double b = 0.5; b < 12; b += 1e-4)
                best =
                    std::max(best, logLikelihood(data, model, b * std::log(limit / data.unit) - q, b).value);
            EXPECT_NEAR(best, cut, 1e-6);
        }
    }
}

TEST(LifeFit, RefusesInWordsWhereNoMaximumExists) {
    const auto refused = [](const std::vector<Observation>& rows, LifeModel model) {
        const auto fit = fitLife(lifeData(rows), model);
        return !fit && fit.error().code == ErrorCode::NotEstimable && !fit.error().detail.empty();
    };
    for (LifeModel model : {LifeModel::Weibull, LifeModel::Lognormal}) {
        EXPECT_TRUE(refused({{50, kOpen, 0, 3}}, model)) << "no comeback";
        EXPECT_TRUE(refused({{50, 50, 0, 1}}, model)) << "one row";
        EXPECT_TRUE(refused({{50, 50, 0, 3}, {50, kOpen, 0, 9}, {20, kOpen, 0, 1}}, model))
            << "all at the largest";
        EXPECT_TRUE(refused({{10, 20, 0, 1}, {15, 30, 0, 2}, {18, kOpen, 0, 1}}, model))
            << "17.5..20 explains all";
        EXPECT_TRUE(refused({{10, 20, 0, 1}, {20, kOpen, 0, 1}}, model)) << "20 explains all";
        EXPECT_TRUE(refused({{0, 0, 0, 2}, {900, kOpen, 0, 5}}, model)) << "comebacks at 0 only";
        EXPECT_TRUE(refused({{0, 10, 0, 2}, {5, kOpen, 0, 5}}, model)) << "found early, others hold";
        EXPECT_FALSE(refused({{50, 50, 0, 1}, {51, kOpen, 0, 1}}, model)) << "one comeback, watched beyond";
        EXPECT_FALSE(refused({{0, 10, 0, 2}, {50, kOpen, 0, 1}, {0, 90, 0, 4}, {20, kOpen, 0, 9}}, model));
    }
    EXPECT_TRUE(refused({{50, kOpen, 0, 3}}, LifeModel::Exponential));
    EXPECT_TRUE(refused({{0, 50, 0, 3}, {0, kOpen, 0, 1}}, LifeModel::Exponential));
    EXPECT_FALSE(refused({{50, 50, 0, 3}}, LifeModel::Exponential));
}

TEST(LifeFit, SettlesOnFirstLooksOnlyWhenTheyCarryAShape) {
    // Comebacks seen at a first look later, on the average, than those that hold: there is a maximum, with
    // gradient 0.
    const LifeData data = lifeData({{{0, 10, 0, 2}, {50, kOpen, 0, 1}, {0, 90, 0, 4}, {20, kOpen, 0, 9}}});
    for (LifeModel model : {LifeModel::Weibull, LifeModel::Lognormal}) {
        const auto fit = fitLife(data, model);
        ASSERT_TRUE(fit) << fit.error().detail;
        const double b = 1 / fit->scatter;
        const LikelihoodTerms at = logLikelihood(data, model, b * (fit->location - std::log(data.unit)), b);
        EXPECT_NEAR(at.a, 0, 1e-7);
        EXPECT_NEAR(at.b, 0, 1e-7);
    }
}

TEST(LifeFit, ChangesOnlyByTheUnitWhenTheUnitChanges) {
    std::mt19937_64 random(7);
    std::uniform_real_distribution<double> uniform(1, 1000);
    for (double unit : {1e-6, 1e-3, 1.609344, 1e7}) {
        std::vector<Observation> rows, scaled;
        for (int i = 0; i < 60; ++i) {
            const double t = uniform(random);
            const double upper = i % 3 == 0 ? kOpen : i % 3 == 1 ? t : t + uniform(random);
            rows.push_back({t, upper, i % 4 == 0 ? 0.5 * t : 0, 1});
            scaled.push_back({t * unit, upper * unit, rows.back().entry * unit, 1});
        }
        for (LifeModel model : {LifeModel::Weibull, LifeModel::Lognormal, LifeModel::Exponential}) {
            const LifeFit one = fitted(rows, model);
            const LifeFit two = fitted(scaled, model);
            EXPECT_NEAR(two.location, one.location + std::log(unit), 1e-8);
            EXPECT_LT(relative(two.scatter, one.scatter), 1e-8);
            EXPECT_LT(relative(two.covariance[0][0], one.covariance[0][0]), 1e-7);
        }
    }
}

TEST(LifeFit, FollowsAHugeShape) {
    // 9,999 comebacks at 1,000 and one at 1,001: the Weibull shape is finite. Score equations at the estimate
    // are zero.
    const LifeData data = lifeData({{{1000, 1000, 0, 9999}, {1001, 1001, 0, 1}}});
    const auto fit = fitLife(data, LifeModel::Weibull);
    ASSERT_TRUE(fit) << fit.error().detail;
    EXPECT_GT(fit->shape(), 1000);
    const double b = fit->shape();
    double s0 = 9999 * std::pow(1000 / fit->scale(), b) + std::pow(1001 / fit->scale(), b);
    EXPECT_NEAR(s0 / 10000, 1, 1e-8);
    const double s1 = std::pow(1001 / fit->scale(), b) * std::log(1001.0 / 1000);
    EXPECT_LT(relative(1 / b + std::log(1001.0 / 1000) / 10000, s1 / s0), 1e-6);
}

TEST(LifeFit, NarrowIntervalsApproachExactComebacks) {
    // An interval (t, t + e] with its probability divided by e tends to the density: same estimates as e ->
    // 0.
    const std::vector<double> miles = {1.1e7, 2.2e7, 2.9e7, 4.1e7};
    std::vector<Observation> exact = {{3e7, kOpen, 0, 2}}, narrow = exact;
    for (double t : miles) {
        exact.push_back({t, t, 0, 1});
        narrow.push_back({t, t + 0.125, 0, 1});
    }
    for (LifeModel model : {LifeModel::Weibull, LifeModel::Lognormal, LifeModel::Exponential}) {
        const LifeFit one = fitted(exact, model);
        const LifeFit two = fitted(narrow, model);
        EXPECT_LT(relative(two.scale(), one.scale()), 1e-7);
        EXPECT_LT(relative(two.scatter, one.scatter), 1e-7);
        EXPECT_LT(relative(two.covariance[0][0], one.covariance[0][0]), 1e-6);
        EXPECT_NEAR(two.logLikelihood, one.logLikelihood + 4 * std::log(0.125), 1e-6);
    }
}

TEST(LifeFit, DerivativesAgreeWithDifferences) {
    const LifeData data = lifeData(
        {{{0, 0, 0, 1}, {3, 3, 1, 2}, {4, 9, 2, 1}, {5, 5.0001, 0, 1}, {0, 2, 0, 1.5}, {8, kOpen, 3, 4}}});
    for (LifeModel model : {LifeModel::Weibull, LifeModel::Lognormal}) {
        for (double b : {0.3, 1.7, 6.0}) {
            const double a = 0.4, e = 1e-5;
            const auto at = logLikelihood(data, model, a, b);
            const auto f = [&](double da, double db) { return logLikelihood(data, model, a + da, b + db); };
            EXPECT_NEAR((f(e, 0).value - f(-e, 0).value) / (2 * e), at.a, 1e-5);
            EXPECT_NEAR((f(0, e).value - f(0, -e).value) / (2 * e), at.b, 1e-5);
            EXPECT_NEAR((f(e, 0).a - f(-e, 0).a) / (2 * e), at.aa, 1e-5);
            EXPECT_NEAR((f(0, e).a - f(0, -e).a) / (2 * e), at.ab, 1e-5);
            EXPECT_NEAR((f(0, e).b - f(0, -e).b) / (2 * e), at.bb, 1e-5);
        }
    }
}

TEST(Numeric, NormalTailHasItsDigitsFarOut) {
    // Abramowitz & Stegun 1964, table 26.2: -log10 of the tail at 10, 20 and 50.
    EXPECT_NEAR(-logNormalTail(10) / std::log(10.0), 23.11805, 5e-6);
    EXPECT_NEAR(-logNormalTail(20) / std::log(10.0), 88.56010, 5e-6);
    EXPECT_NEAR(-logNormalTail(50) / std::log(10.0), 544.96634, 5e-6);
    EXPECT_NEAR(normalHazard(7.999999999), normalHazard(8.000000001), 1e-8);
}

} // namespace
} // namespace milehold::core
