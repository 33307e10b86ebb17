// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/cox.h"
#include "tests/core/survival/published.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

namespace milehold::core {
namespace {

using published::relative;

// Weeks of remission of 21 matched pairs: placebo, 6-mercaptopurine, whether the latter relapsed (the former
// all did). Freireich et al. 1963, Blood 21:699; the data of Cox 1972.
struct Pair {
    double placebo, treated;
    bool relapsed;
};
const std::vector<Pair> kRemission = {
    {1, 10, true},  {22, 7, true},   {3, 32, false}, {12, 23, true},  {8, 22, true},  {17, 6, true},
    {2, 16, true},  {11, 34, false}, {8, 32, false}, {12, 25, false}, {2, 11, false}, {5, 20, false},
    {4, 19, false}, {15, 6, true},   {8, 17, false}, {23, 35, false}, {5, 6, true},   {11, 13, true},
    {4, 9, false},  {1, 6, false},   {8, 10, false}};

struct Sample {
    Lives lives;
    FactorTable factors;
};

Sample remission() {
    Sample s;
    s.factors.names = {"treated"};
    for (std::size_t i = 0; i < kRemission.size(); ++i) {
        const Pair& pair = kRemission[i];
        const auto id = static_cast<std::uint32_t>(i);
        s.lives.miles.insert(s.lives.miles.end(), {pair.placebo, pair.treated});
        s.lives.end.insert(s.lives.end.end(), {kCameBack, pair.relapsed ? kCameBack : kHolding});
        s.lives.vehicle.insert(s.lives.vehicle.end(), {id, id});
        s.lives.stratum.insert(s.lives.stratum.end(), {id, id});
        s.factors.values.insert(s.factors.values.end(), {0, 1});
        s.lives.vehicleNames.push_back(std::to_string(i));
    }
    s.lives.stratumNames = s.lives.vehicleNames;
    return s;
}

// Random lives with ties, late entries and weights; factors of very different units.
Sample randomSample(std::uint64_t seed, std::size_t n, bool late, bool weighted) {
    std::mt19937_64 random(seed);
    std::uniform_real_distribution<double> uniform(0, 1);
    Sample s;
    s.factors.names = {"a", "b", "c"};
    for (std::size_t i = 0; i < n; ++i) {
        const double a = uniform(random) < 0.4 ? 1 : 0, b = 1e6 * uniform(random),
                     c = 1e-3 * (uniform(random) - 0.5);
        const double t = 1 + std::floor(20 * -std::log(uniform(random)) * std::exp(-0.7 * a + 5e-7 * b));
        const double censor = 1 + std::floor(40 * uniform(random));
        const double entry = late && uniform(random) < 0.4 ? std::floor(10 * uniform(random)) : 0;
        if (std::min(t, censor) <= entry)
            continue;
        s.lives.miles.push_back(std::min(t, censor));
        s.lives.end.push_back(t <= censor ? kCameBack : kHolding);
        s.lives.entry.push_back(entry);
        s.lives.weight.push_back(weighted ? 1 + std::floor(3 * uniform(random)) : 1);
        s.lives.stratum.push_back(static_cast<std::uint32_t>(i % 2));
        s.lives.vehicle.push_back(static_cast<std::uint32_t>(i / 2));
        s.factors.values.insert(s.factors.values.end(), {a, b, c});
    }
    s.lives.stratumNames = {"x", "y"};
    return s;
}

// The partial likelihood straight from its definition, quadratic in n.
double partialLikelihood(const Sample& s, const std::vector<double>& beta, TiesRule ties, bool stratified) {
    const std::size_t n = s.lives.size(), p = s.factors.terms();
    const auto eta = [&](std::size_t i) {
        double sum = 0;
        for (std::size_t k = 0; k < p; ++k)
            sum += beta[k] * s.factors.values[i * p + k];
        return sum;
    };
    double total = 0;
    std::vector<char> done(n, 0);
    for (std::size_t i = 0; i < n; ++i) {
        if (!s.lives.cameBack(i) || done[i] != 0)
            continue;
        double watched = 0, failing = 0, comebacks = 0;
        for (std::size_t k = 0; k < n; ++k) {
            if (stratified && s.lives.stratumOf(k) != s.lives.stratumOf(i))
                continue;
            const double w = s.lives.weightOf(k), r = w * std::exp(eta(k)), t = s.lives.miles[i];
            const bool there = s.lives.miles[k] >= t && (s.lives.entryOf(k) < t || s.lives.entryOf(k) == 0);
            if (there)
                watched += r;
            if (!there || s.lives.miles[k] != t || !s.lives.cameBack(k))
                continue;
            failing += r;
            comebacks += w;
            total += w * eta(k);
            done[k] = 1;
        }
        for (double m = 0; m < comebacks; ++m)
            total -= std::log(watched - (ties == TiesRule::Efron ? m / comebacks * failing : 0));
    }
    return total;
}

CoxFit fitted(const Sample& s, const CoxOptions& options = {}) {
    const auto fit = fitCox(s.lives, s.factors, options);
    EXPECT_TRUE(fit) << fit.error().detail;
    return fit ? *fit : CoxFit{};
}

TEST(Cox, MatchesCoxphOnTheRemissionTimes) {
    // R survival 3.5-3: coxph(ties = , cluster = pair), cox.zph(transform = "km"), fifteen digits.
    CoxOptions options;
    options.clustered = true;
    const CoxFit efron = fitted(remission(), options);
    EXPECT_LT(relative(efron.terms[0].coefficient, -1.57212514882907), 1e-9);
    EXPECT_LT(relative(efron.terms[0].se, 0.412396717709455), 1e-9);
    EXPECT_LT(relative(*efron.terms[0].robustSe, 0.391136167316692), 1e-9);
    EXPECT_LT(relative(efron.logLikelihoodNull, -93.1842699968477), 1e-12);
    EXPECT_LT(relative(efron.logLikelihood, -85.0084245773716), 1e-12);
    EXPECT_LT(relative(efron.score.chiSquare, 17.2465367957166), 1e-10);
    EXPECT_LT(relative(efron.likelihoodRatio.chiSquare, 16.3516908389522), 1e-10);
    EXPECT_LT(relative(efron.wald.chiSquare, 14.5326170633744), 1e-8);
    EXPECT_LT(relative(*efron.proportionalHazards[0].chiSquare, 0.0228633780528221), 1e-7);
    EXPECT_EQ(efron.proportionalHazards[1].term, "all");
    options.ties = TiesRule::Breslow;
    const CoxFit breslow = fitted(remission(), options);
    EXPECT_LT(relative(breslow.terms[0].coefficient, -1.50919141258588), 1e-9);
    EXPECT_LT(relative(breslow.terms[0].se, 0.409564406366741), 1e-9);
    EXPECT_LT(relative(*breslow.terms[0].robustSe, 0.375976691534102), 1e-9);
    EXPECT_LT(relative(breslow.logLikelihood, -86.3796220711455), 1e-12);
    EXPECT_LT(relative(*breslow.proportionalHazards[0].chiSquare, 0.064179686381018), 1e-7);
}

TEST(Cox, PairsAsStrataCountWhoRelapsedFirst) {
    // Closed form: of 21 pairs the placebo relapsed first in 18, the treated in 3, so exp(coefficient) = 3/18
    // and the information is 21 * 1/7 * 6/7 = 18/7.
    CoxOptions options;
    options.stratified = true;
    const CoxFit fit = fitted(remission(), options);
    EXPECT_NEAR(fit.terms[0].coefficient, std::log(1.0 / 6), 1e-9);
    EXPECT_NEAR(fit.covariance[0], 7.0 / 18, 1e-9);
    EXPECT_NEAR(fit.logLikelihoodNull, -21 * std::log(2.0), 1e-12);
    EXPECT_NEAR(fit.score.chiSquare, std::pow(18 - 10.5, 2) / (21 * 0.25), 1e-10);
}

TEST(Cox, IsTheMaximumOfItsPartialLikelihood) {
    // The likelihood from its definition: equal at the fit, its slope 0, its curvature the inverse
    // covariance.
    for (std::uint64_t seed = 1; seed <= 12; ++seed) {
        SCOPED_TRACE(seed);
        const Sample s = randomSample(seed, 60, seed % 2 == 0, seed % 3 == 0);
        CoxOptions options;
        options.ties = seed % 4 < 2 ? TiesRule::Efron : TiesRule::Breslow;
        options.stratified = seed % 5 == 0;
        const CoxFit fit = fitted(s, options);
        const auto value = [&](const std::vector<double>& beta) {
            return partialLikelihood(s, beta, options.ties, options.stratified);
        };
        const std::vector<double> beta = fit.coefficients();
        EXPECT_NEAR(fit.logLikelihood, value(beta), 1e-9);
        EXPECT_NEAR(fit.logLikelihoodNull, value({0, 0, 0}), 1e-9);
        for (std::size_t k = 0; k < 3; ++k) {
            const double step = 1e-3 * fit.terms[k].se;
            auto up = beta, down = beta;
            up[k] += step;
            down[k] -= step;
            EXPECT_NEAR((value(up) - value(down)) / (2 * step) * fit.terms[k].se, 0, 1e-5);
        }
        // Along the direction of a column of the covariance the curvature is minus its diagonal entry.
        for (std::size_t k = 0; k < 3; ++k) {
            auto up = beta, down = beta;
            const double h = 1e-2 / fit.terms[k].se;
            for (std::size_t j = 0; j < 3; ++j) {
                up[j] += h * fit.covariance[j * 3 + k];
                down[j] -= h * fit.covariance[j * 3 + k];
            }
            const double bend = (value(up) - 2 * value(beta) + value(down)) / (h * h);
            EXPECT_LT(relative(bend, -fit.covariance[k * 3 + k]), 1e-3);
        }
    }
}

TEST(Cox, WeightsAreRowsRepeated) {
    Sample weighted = randomSample(21, 50, true, true), repeated = weighted;
    repeated.lives.miles.clear();
    repeated.lives.end.clear();
    repeated.lives.entry.clear();
    repeated.lives.weight.clear();
    repeated.lives.vehicle.clear();
    repeated.factors.values.clear();
    repeated.lives.stratum.clear();
    for (std::size_t i = 0; i < weighted.lives.size(); ++i) {
        for (double k = 0; k < weighted.lives.weight[i]; ++k) {
            repeated.lives.miles.push_back(weighted.lives.miles[i]);
            repeated.lives.end.push_back(weighted.lives.end[i]);
            repeated.lives.entry.push_back(weighted.lives.entry[i]);
            repeated.lives.vehicle.push_back(weighted.lives.vehicle[i]);
            for (std::size_t c = 0; c < 3; ++c)
                repeated.factors.values.push_back(weighted.factors.values[i * 3 + c]);
        }
    }
    for (TiesRule ties : {TiesRule::Efron, TiesRule::Breslow}) {
        CoxOptions options;
        options.ties = ties;
        options.clustered = true;
        const CoxFit one = fitted(weighted, options), two = fitted(repeated, options);
        EXPECT_EQ(one.lives, two.lives);
        EXPECT_EQ(one.comebacks, two.comebacks);
        EXPECT_NEAR(one.logLikelihood, two.logLikelihood, 1e-9);
        for (std::size_t k = 0; k < 3; ++k) {
            EXPECT_LT(relative(one.terms[k].coefficient, two.terms[k].coefficient), 1e-8);
            EXPECT_LT(relative(one.terms[k].se, two.terms[k].se), 1e-8);
            EXPECT_LT(relative(*one.terms[k].robustSe, *two.terms[k].robustSe), 1e-8);
            EXPECT_LT(relative(*one.proportionalHazards[k].chiSquare, *two.proportionalHazards[k].chiSquare),
                      1e-6);
        }
    }
}

TEST(Cox, OrderUnitsAndOriginOfTheColumnsDoNotMatter) {
    const Sample s = randomSample(33, 80, true, false);
    Sample moved = s;
    const std::size_t n = s.lives.size();
    for (std::size_t i = 0; i < n; ++i) {
        const std::size_t from = (i * 7 + 3) % n == i ? i : n - 1 - i;
        moved.lives.miles[i] = 1.609344 * s.lives.miles[from];
        moved.lives.entry[i] = 1.609344 * s.lives.entry[from];
        moved.lives.end[i] = s.lives.end[from];
        moved.factors.values[i * 3] = 5 - 2 * s.factors.values[from * 3];
        moved.factors.values[i * 3 + 1] = 1e-9 * s.factors.values[from * 3 + 1];
        moved.factors.values[i * 3 + 2] = 1e12 + 1e9 * s.factors.values[from * 3 + 2];
    }
    const CoxFit one = fitted(s), two = fitted(moved);
    EXPECT_NEAR(one.logLikelihood, two.logLikelihood, 1e-7);
    EXPECT_LT(relative(two.terms[0].coefficient, -0.5 * one.terms[0].coefficient), 1e-6);
    EXPECT_LT(relative(two.terms[1].coefficient, 1e9 * one.terms[1].coefficient), 1e-6);
    EXPECT_LT(relative(two.terms[2].se, 1e-9 * one.terms[2].se), 1e-4);
}

TEST(Cox, RefusesColumnsWithoutACoefficientByName) {
    const auto reason = [](Sample s) {
        const auto fit = fitCox(s.lives, s.factors);
        EXPECT_FALSE(fit);
        return fit ? std::string() : fit.error().detail;
    };
    const Sample base = randomSample(4, 80, false, false);
    Sample constant = base, follows = base, separates = base, rare = base;
    for (std::size_t i = 0; i < base.lives.size(); ++i) {
        constant.factors.values[i * 3 + 1] = 7;
        follows.factors.values[i * 3 + 2] =
            2 * base.factors.values[i * 3] - 3 * base.factors.values[i * 3 + 1];
        separates.factors.values[i * 3] = base.lives.cameBack(i) ? 1 : 0;
        rare.factors.values[i * 3] = 0;
    }
    // One life alone with the mark, and it never comes back: minus infinity.
    std::size_t holding = 0;
    while (base.lives.cameBack(holding))
        ++holding;
    rare.factors.values[holding * 3] = 1;
    EXPECT_EQ(reason(constant).substr(0, 2), "b ");
    EXPECT_EQ(reason(follows).substr(0, 2), "c ");
    EXPECT_EQ(reason(separates).substr(0, 12), "a separates ");
    EXPECT_EQ(reason(rare).substr(0, 12), "a separates ");
    Sample none = base;
    std::fill(none.lives.end.begin(), none.lives.end.end(), kHolding);
    EXPECT_NE(reason(none).find("no comeback"), std::string::npos);
}

TEST(Cox, SeparationByTwoColumnsTogetherIsFound) {
    // Neither column alone orders the comebacks, but their sum does: the one with the largest sum always goes
    // first.
    Sample s;
    s.factors.names = {"first", "second"};
    std::mt19937_64 random(8);
    std::uniform_real_distribution<double> uniform(0, 1);
    for (int i = 0; i < 30; ++i) {
        const double a = uniform(random), b = uniform(random);
        s.lives.miles.push_back(1000 - 400 * (a + b));
        s.lives.end.push_back(kCameBack);
        s.factors.values.insert(s.factors.values.end(), {a, b});
    }
    const auto fit = fitCox(s.lives, s.factors);
    ASSERT_FALSE(fit);
    EXPECT_NE(fit.error().detail.find("separates"), std::string::npos) << fit.error().detail;
}

TEST(Cox, NearlySeparatedStillHasItsFiniteCoefficient) {
    // Two groups, one event in the first among 1,000 watched: close to separation, but finite. The partial
    // likelihood of the events in order: closed form with one binary column, checked by the score equation.
    Sample s;
    s.factors.names = {"mark"};
    for (int i = 0; i < 1000; ++i) {
        s.lives.miles.push_back(i == 0 ? 500 : 1001);
        s.lives.end.push_back(i == 0 ? kCameBack : kHolding);
        s.factors.values.push_back(0);
        s.lives.miles.push_back(1 + i);
        s.lives.end.push_back(kCameBack);
        s.factors.values.push_back(1);
    }
    CoxOptions options;
    options.ties = TiesRule::Breslow;
    const CoxFit fit = fitted(s, options);
    const double ratio = std::exp(fit.terms[0].coefficient);
    double score = 0;
    for (int i = 0; i < 1000; ++i) {
        const double marked = 1000 - i, plain = 1 + i > 500 ? 999 : 1000;
        const double share = ratio * marked / (ratio * marked + plain);
        score += 1 - share;
        if (1 + i == 500)
            score -= share;
    }
    EXPECT_NEAR(score, 0, 1e-6);
}

TEST(Cox, PredictsSurvivalAsTheReferenceDoes) {
    // R survival 3.5-3: summary(survfit(coxph fit, newdata = treated 0 and 1), times = c(5, 10, 22)), Efron
    // then Breslow.
    const Sample s = remission();
    const std::vector<double> at = {5, 10, 22};
    const double survival[2][3] = {{0.652022671044257, 0.346761888570462, 0.0580212995000214},
                                   {0.661690996706924, 0.366967226326064, 0.0697333809778107}};
    const double se[2][3] = {{0.0967240295460796, 0.0957402377279767, 0.0449447188238322},
                             {0.0948217513743079, 0.0957120143471051, 0.0498216548246171}};
    const double upper[2] = {0.872034831720054, 0.876262544108673};
    const double treated22[2] = {0.553753388512338, 0.555006208665074};
    for (int k = 0; k < 2; ++k) {
        CoxOptions options;
        options.ties = k == 0 ? TiesRule::Efron : TiesRule::Breslow;
        const CoxFit fit = fitted(s, options);
        const auto points =
            predictedSurvival(s.lives, s.factors, options, fit, std::vector<double>{0}, 0, at);
        for (std::size_t i = 0; i < 3; ++i) {
            EXPECT_LT(relative(points[i].survival, survival[k][i]), 1e-8);
            EXPECT_LT(relative(points[i].se, se[k][i]), 1e-8);
        }
        EXPECT_LT(relative(points[0].upper, upper[k]), 1e-8);
        const auto treated =
            predictedSurvival(s.lives, s.factors, options, fit, std::vector<double>{1}, 0, at);
        EXPECT_LT(relative(treated[2].survival, treated22[k]), 1e-8);
        // With one column the adjusted curve is the predicted one.
        const auto adjusted = adjustedSurvival(s.lives, s.factors, options, fit, 0, 1, at);
        EXPECT_NEAR(adjusted[2].survival, treated[2].survival, 1e-12);
        EXPECT_NEAR(adjusted[2].se, treated[2].se, 1e-12);
        EXPECT_NEAR(adjusted[2].lower, treated[2].lower, 1e-12);
        EXPECT_NEAR(adjusted[2].upper, treated[2].upper, 1e-12);
    }
}

TEST(Cox, ComebackAtZeroIsAnOrdinaryOne) {
    Sample s = remission(), later = s;
    for (double& t : s.lives.miles)
        t -= 1;
    EXPECT_NEAR(fitted(s).terms[0].coefficient, fitted(later).terms[0].coefficient, 1e-12);
}

} // namespace
} // namespace milehold::core
