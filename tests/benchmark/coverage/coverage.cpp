// SPDX-License-Identifier: GPL-3.0-or-later
// How often the 95 % limits that a customer may see hold the truth, by simulation. Prints the table of the
// manual:
//
//     milehold_coverage [runs] > table.md
//
// A run draws n lives of a Weibull distribution of shape 1.5 whose true chance past the horizon is S. Four in
// ten are lost sight of somewhere before the horizon, evenly; the others are watched to somewhere past it.
// Where a method gives no limits (no comeback yet, no fit) the run counts as "none", beside those that hold
// and those that miss.
#include "core/survival/assumed_shape.h"
#include "core/survival/curve.h"
#include "core/survival/life_fit.h"
#include "core/survival/turnbull.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <functional>
#include <limits>
#include <random>
#include <string>
#include <vector>

namespace {

using namespace milehold::core;

constexpr double kHorizon = 40000;
constexpr double kShape = 1.5;
constexpr double kUnseen = 0.4;
constexpr double kLevel = 0.95;

class Draw {
public:
    explicit Draw(std::uint64_t seed) : random_(seed) {}
    double uniform() { return (static_cast<double>(random_() >> 11) + 0.5) * 0x1.0p-53; }

private:
    std::mt19937_64 random_;
};

struct Sample {
    Lives lives;                     ///< comebacks at their mileage, whole miles
    std::vector<Observation> looked; ///< the same lives seen only at visits, so that comebacks are intervals
};

Sample sample(Draw& draw, int n, double survival) {
    const double scale = kHorizon / std::pow(-std::log(survival), 1 / kShape);
    Sample s;
    for (int i = 0; i < n; ++i) {
        const double life = scale * std::pow(-std::log(draw.uniform()), 1 / kShape);
        const bool unseen = draw.uniform() < kUnseen;
        const double watch = unseen ? kHorizon * draw.uniform() : kHorizon * (1 + 0.5 * draw.uniform());
        s.lives.miles.push_back(std::floor(std::min(life, watch)) + 1);
        s.lives.end.push_back(life <= watch ? kCameBack : kHolding);
        // A visit about every 8,000 miles.
        const double step = 8000 * (0.5 + draw.uniform());
        const double last = std::floor(watch / step) * step;
        const double open = std::numeric_limits<double>::infinity();
        if (life <= watch) {
            const double before = std::floor(life / step) * step;
            s.looked.push_back({std::floor(before), std::floor(before + step), 0, 1});
        } else {
            s.looked.push_back({std::floor(last), open, 0, 1});
        }
    }
    return s;
}

struct Bounds {
    std::optional<double> lower, upper;
};

using Method = std::function<Bounds(const Sample&)>;

Method byCurve(LimitMethod limits) {
    return [limits](const Sample& s) -> Bounds {
        const Counts counts = countsOfAll(s.lives);
        const auto curve = survivalCurve(counts, {kLevel, limits});
        if (!curve)
            return {};
        const CurvePoint at = valueAt(*curve, counts, kHorizon);
        return {at.lower, at.upper};
    };
}

// The conditional form of a quote: for a repair that has run half of the horizon, from the lives that went so
// far.
constexpr double kRun = kHorizon / 2;

Bounds byConditional(const Sample& s) {
    const Counts later = restartedAt(countsOfAll(s.lives), kRun);
    if (later.size() == 0)
        return {};
    const auto curve = survivalCurve(later, {kLevel, LimitMethod::Exact});
    if (!curve)
        return {};
    const CurvePoint at = valueAt(*curve, later, kHorizon);
    return {at.lower, at.upper};
}

Method byModel(LifeModel model) {
    return [model](const Sample& s) -> Bounds {
        const auto fit = fitLife(lifeData(countsOfAll(s.lives)), model);
        if (!fit)
            return {};
        const LifeSurvival at = survivalAt(*fit, kHorizon, kLevel);
        return {at.lower, at.upper};
    };
}

// Limits of the mileage by which a share has failed, asked at the true share: they hold the horizon or miss
// it.
Method byLife(bool profile, double failed) {
    return [profile, failed](const Sample& s) -> Bounds {
        const LifeData data = lifeData(countsOfAll(s.lives));
        const auto fit = fitLife(data, LifeModel::Weibull);
        if (!fit)
            return {};
        const LifeQuantile life =
            profile ? profileQuantile(data, *fit, failed, kLevel) : waldQuantile(*fit, failed, kLevel);
        return {life.lower.value_or(0), life.upper.value_or(std::numeric_limits<double>::infinity())};
    };
}

Bounds byWorstShape(const Sample& s) {
    const auto shapes = assumedShapes(countsOfAll(s.lives), kUsualShapes, kLevel);
    if (!shapes)
        return {};
    return {worstSurvival(*shapes, kHorizon).lower, 1.0};
}

Bounds byBootstrap(const Sample& s) {
    const std::vector<double> at = {kHorizon};
    const auto limits = bootstrapLimits(s.looked, at, kLevel, 200, 1);
    if (!limits)
        return {};
    return {(*limits)[0].lower, (*limits)[0].upper};
}

struct Tally {
    int holds = 0, given = 0, runs = 0;
};

Tally cover(const Method& method, int n, double survival, double truth, int runs) {
    Draw draw(static_cast<std::uint64_t>(n) * 1000 + static_cast<std::uint64_t>(100 * survival));
    Tally tally;
    for (int run = 0; run < runs; ++run) {
        const Bounds at = method(sample(draw, n, survival));
        ++tally.runs;
        if (!at.lower || !at.upper)
            continue;
        ++tally.given;
        if (*at.lower <= truth && truth <= *at.upper)
            ++tally.holds;
    }
    return tally;
}

std::string cell(const Tally& tally) {
    char text[64];
    const double holds = 100.0 * tally.holds / tally.runs;
    const double none = 100.0 * (tally.runs - tally.given) / tally.runs;
    if (tally.given == tally.runs)
        std::snprintf(text, sizeof text, "%.1f", holds);
    else
        std::snprintf(text, sizeof text, "%.1f (none %.1f)", holds, none);
    return text;
}

} // namespace

int main(int argc, char** argv) {
    const int runs = argc > 1 ? std::max(10, std::atoi(argv[1])) : 10000;
    const int slow = std::max(10, runs / 20); // of methods that resample
    const std::array<double, 3> survivals = {0.95, 0.8, 0.5};
    const std::array<int, 4> sizes = {10, 20, 50, 200};
    struct Row {
        const char* name;
        Method method;
        double truth; ///< of S; of the mileage where the limits are of that
        int runs;
    };
    std::printf("Runs in 100 whose limits hold the truth: nominal 95, %d runs a cell (%d where lives are "
                "resampled).\n\n",
                runs, slow);
    for (const double survival : survivals) {
        const std::vector<Row> rows = {
            {"**curve, exact (the default)**", byCurve(LimitMethod::Exact), survival, runs},
            {"**the same, for a repair that has run half of it**", byConditional,
             std::pow(survival, 1 - std::pow(kRun / kHorizon, kShape)), runs},
            {"curve, exact with mid-p", byCurve(LimitMethod::ExactMidP), survival, runs},
            {"curve, log-log", byCurve(LimitMethod::LogLog), survival, runs},
            {"curve, log", byCurve(LimitMethod::Log), survival, runs},
            {"curve, linear", byCurve(LimitMethod::Linear), survival, runs},
            {"curve from intervals, bootstrap", byBootstrap, survival, slow},
            {"Weibull, S at the horizon", byModel(LifeModel::Weibull), survival, runs},
            {"lognormal (a wrong model), S at the horizon", byModel(LifeModel::Lognormal), survival, runs},
            {"Weibull, mileage, profile", byLife(true, 1 - survival), kHorizon, runs / 5},
            {"Weibull, mileage, Wald", byLife(false, 1 - survival), kHorizon, runs},
            {"assumed shapes, the worst (one-sided)", byWorstShape, survival, runs},
        };
        std::printf("### True chance past the horizon %.0f %%\n\n| limits | n = 10 | n = 20 | n = 50 | n = "
                    "200 |\n|---|---|---|---|---|\n",
                    100 * survival);
        for (const Row& row : rows) {
            std::printf("| %s |", row.name);
            for (const int n : sizes) {
                std::printf(" %s |", cell(cover(row.method, n, survival, row.truth, row.runs)).c_str());
                std::fflush(stdout);
            }
            std::printf("\n");
        }
        std::printf("\n");
    }
    return 0;
}
