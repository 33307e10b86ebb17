// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/histories.h"
#include "core/survival/repeats.h"
#include "tests/core/survival/tables.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace milehold::core {
namespace {

Histories historiesOf(const std::vector<published::Watched>& vehicles) {
    Histories histories;
    for (const published::Watched& vehicle : vehicles) {
        histories.windows.vehicle.push_back(histories.vehicles);
        histories.windows.from.push_back(0);
        histories.windows.to.push_back(vehicle.end);
        for (const double miles : vehicle.comebacks) {
            histories.comebacks.vehicle.push_back(histories.vehicles);
            histories.comebacks.miles.push_back(miles);
        }
        ++histories.vehicles;
    }
    return histories;
}

MeanCurve curveOf(const Histories& histories) {
    const auto curve = meanCurve(histories);
    EXPECT_TRUE(curve) << curve.error().detail;
    return curve ? *curve : MeanCurve{};
}

double at(const MeanCurve& curve, const std::vector<double>& column, double miles) {
    double value = 0;
    for (std::size_t i = 0; i < curve.miles.size() && curve.miles[i] <= miles; ++i)
        value = column[i];
    return value;
}

// Nelson & Doganaksoy 1989. Means by hand: 11/41 at 200 days; robust errors after Lawless & Nadeau 1995, ten
// digits.
TEST(MeanCurve, MatchesTheValveSeatsOfNelson1995) {
    const MeanCurve curve = curveOf(historiesOf(published::kValveSeats));
    const struct {
        double day, mean, se;
    } expected[] = {{200, 11.0 / 41, 0.0773166134},
                    {400, 27.0 / 41, 0.1318416483},
                    {600, 1.01426414, 0.1738443285},
                    {653, 1.542687514, 0.3116560748}};
    for (const auto& e : expected) {
        EXPECT_NEAR(at(curve, curve.mean, e.day), e.mean, 1e-9) << e.day;
        EXPECT_NEAR(at(curve, curve.se, e.day), e.se, 1e-10) << e.day;
    }
    EXPECT_EQ(curve.vehicles, 41U);
    EXPECT_EQ(curve.longestWatched, 761);
}

// Doganaksoy & Nelson 1991: two batches; the mean of batch 2 less that of batch 1 at 400 days is 13/9 - 2/3.
TEST(MeanCurve, TellsTwoBatchesOfBrakingGridsApart) {
    const MeanCurve first = curveOf(historiesOf(published::kBrakingGrids1));
    const MeanCurve second = curveOf(historiesOf(published::kBrakingGrids2));
    EXPECT_NEAR(at(first, first.mean, 400), 2.0 / 3, 1e-14);
    EXPECT_NEAR(at(first, first.se, 400), 0.1539600718, 1e-10);
    EXPECT_NEAR(at(second, second.mean, 400), 13.0 / 9, 1e-14);
    EXPECT_NEAR(at(second, second.se, 400), 0.2111435972, 1e-10);
    const auto gap = meanGap(second, first, 400);
    ASSERT_TRUE(gap);
    EXPECT_NEAR(gap->value, 13.0 / 9 - 2.0 / 3, 1e-14);
    EXPECT_NEAR(gap->se, std::hypot(0.1539600718, 0.2111435972), 1e-9);
    EXPECT_GT(gap->lower, 0);
    EXPECT_FALSE(meanGap(second, first, 600));
}

// Everybody watched all the way: the mean is the average, its error the deviation of the totals over root n.
TEST(MeanCurve, IsTheAverageWhenAllAreWatchedToTheEnd) {
    const MeanCurve curve =
        curveOf(historiesOf({{100, {10, 20, 20}}, {100, {}}, {100, {20}}, {100, {50, 99}}}));
    EXPECT_NEAR(curve.mean.back(), 6.0 / 4, 1e-15);
    const double square = 1.5 * 1.5 + 1.5 * 1.5 + 0.5 * 0.5 + 0.5 * 0.5;
    EXPECT_NEAR(curve.se.back(), std::sqrt(square) / 4, 1e-15);
    EXPECT_NEAR(curve.lower.back(), 1.5 * std::exp(-1.959963984540054 * curve.se.back() / 1.5), 1e-14);
    EXPECT_NEAR(curve.upper.back(), 1.5 * std::exp(1.959963984540054 * curve.se.back() / 1.5), 1e-14);
}

TEST(MeanCurve, WatchesAVehicleAtTheMileageWhereItsWatchCloses) {
    const MeanCurve curve = curveOf(historiesOf({{10, {10}}, {10, {}}, {20, {}}}));
    EXPECT_NEAR(curve.mean[0], 1.0 / 3, 1e-15);
}

// The sum over vehicles of (sum over the mileages watched of (d_i - d/n)/n)^2, as it stands, with gaps and
// costs.
TEST(MeanCurve, FollowsItsFormulaWithGapsInTheWatchAndCosts) {
    struct Vehicle {
        std::vector<std::pair<double, double>> windows;
        std::vector<std::pair<double, double>> comebacks; // miles, cost
    };
    const std::vector<Vehicle> vehicles = {{{{0, 10}, {20, 50}}, {{0, 3}, {10, 1}, {30, 4}, {30, 2}}},
                                           {{{0, 40}}, {{25, 7}, {30, 1}}},
                                           {{{15, 30}, {30, 45}}, {{30, 5}, {31, 2.5}}},
                                           {{{0, 5}, {5, 12}, {35, 60}}, {{12, 6}, {60, 1.5}}}};
    Histories histories;
    std::vector<double> miles;
    for (const Vehicle& vehicle : vehicles) {
        for (const auto& [from, to] : vehicle.windows) {
            histories.windows.vehicle.push_back(histories.vehicles);
            histories.windows.from.push_back(from);
            histories.windows.to.push_back(to);
        }
        for (const auto& [m, cost] : vehicle.comebacks) {
            histories.comebacks.vehicle.push_back(histories.vehicles);
            histories.comebacks.miles.push_back(m);
            histories.comebacks.amount.push_back(cost);
            miles.push_back(m);
        }
        ++histories.vehicles;
    }
    std::sort(miles.begin(), miles.end());
    miles.erase(std::unique(miles.begin(), miles.end()), miles.end());
    const auto watchedAt = [](const Vehicle& v, double t) {
        return std::any_of(v.windows.begin(), v.windows.end(), [t](const auto& w) {
            return (w.first < t || (t == 0 && w.first == 0)) && t <= w.second;
        });
    };
    const auto costAt = [](const Vehicle& v, double t) {
        double sum = 0;
        for (const auto& [m, cost] : v.comebacks)
            sum += m == t ? cost : 0;
        return sum;
    };
    std::vector<double> deviation(vehicles.size(), 0.0);
    double mean = 0;
    const MeanCurve curve = curveOf(histories);
    ASSERT_EQ(curve.miles, miles);
    for (std::size_t j = 0; j < miles.size(); ++j) {
        double n = 0;
        double d = 0;
        for (const Vehicle& v : vehicles) {
            n += watchedAt(v, miles[j]) ? 1 : 0;
            d += costAt(v, miles[j]);
        }
        mean += d / n;
        double square = 0;
        for (std::size_t i = 0; i < vehicles.size(); ++i) {
            if (watchedAt(vehicles[i], miles[j]))
                deviation[i] += (costAt(vehicles[i], miles[j]) - d / n) / n;
            square += deviation[i] * deviation[i];
        }
        EXPECT_EQ(curve.watched[j], n) << miles[j];
        EXPECT_NEAR(curve.mean[j], mean, 1e-13) << miles[j];
        EXPECT_NEAR(curve.se[j], std::sqrt(square), 1e-13) << miles[j];
    }
}

TEST(MeanCurve, OfOneVehicleHasNoError) {
    const MeanCurve curve = curveOf(historiesOf({{50, {10, 30}}}));
    EXPECT_EQ(curve.mean.back(), 2);
    EXPECT_EQ(curve.se.back(), 0);
    EXPECT_EQ(curve.upper.back(), 2);
}

TEST(MeanCurve, IsEmptyWhenNobodyComesBack) {
    EXPECT_TRUE(curveOf(historiesOf({{50, {}}, {0, {}}})).miles.empty());
}

TEST(MeanCurve, RefusesBrokenHistoriesInWords) {
    const auto refusal = [](auto change) {
        Histories histories = historiesOf({{50, {10}}, {60, {}}});
        change(histories);
        const auto curve = meanCurve(histories);
        return curve ? std::string() : curve.error().detail;
    };
    EXPECT_EQ(refusal([](Histories&) {}), "");
    EXPECT_EQ(refusal([](Histories& h) { h.comebacks.miles[0] = 51; }),
              "a comeback lies outside every window of its vehicle");
    EXPECT_EQ(refusal([](Histories& h) { h.windows.from[1] = 60; }),
              "a window does not end beyond its beginning");
    EXPECT_EQ(refusal([](Histories& h) { h.windows.vehicle[1] = 0; }), "two windows of a vehicle overlap");
    EXPECT_EQ(refusal([](Histories& h) { h.comebacks.vehicle[0] = 2; }), "a comeback is of no vehicle");
    EXPECT_EQ(refusal([](Histories& h) { h.comebacks.amount = {-1}; }),
              "what a comeback cost must be finite and 0 or more");
    EXPECT_EQ(refusal([](Histories& h) { h.vehicles = 0; }), "there is no vehicle");
}

TEST(Histories, TakeTheRowsOfOneVehicleInOneGroupAsOne) {
    Lives lives;
    lives.miles = {10, 30, 20, 5, 8};
    lives.end = {kCameBack, kHolding, kCameBack, kCameBack, kCameBack};
    lives.vehicle = {0, 0, 0, 1, 0};
    lives.group = {0, 0, 0, 0, 1};
    lives.groupNames = {"a", "b"};
    const auto groups = historiesByGroup(lives);
    ASSERT_EQ(groups.size(), 2U);
    EXPECT_EQ(groups[0].vehicles, 2U);
    EXPECT_EQ(groups[0].windows.to, (std::vector<double>{30, 5}));
    EXPECT_EQ(groups[0].comebacks.miles, (std::vector<double>{10, 20, 5}));
    EXPECT_EQ(groups[1].vehicles, 1U);
    EXPECT_EQ(groups[1].windows.to, (std::vector<double>{8}));
}

} // namespace
} // namespace milehold::core
