// SPDX-License-Identifier: GPL-3.0-or-later
// The methods beside curves, each at a size that a shop meets and beside a floor or a plainer rival in the
// same run: its name ends in what it is to be set against.
#include "core/life/calls.h"
#include "core/life/evidence.h"
#include "core/life/readings.h"
#include "core/survival/curve.h"
#include "core/survival/evidence.h"
#include "core/survival/life_average.h"
#include "core/survival/life_fit.h"
#include "core/survival/pooling.h"
#include "core/survival/turnbull.h"
#include "core/warranty/terms.h"
#include "core/watch/cusum.h"
#include "core/watch/funnel.h"
#include "core/watch/power.h"
#include "tests/benchmark/sample_lives.h"

#include <benchmark/benchmark.h>

#include <cmath>
#include <limits>

namespace milehold::benchmarks {

namespace {

using namespace core;

constexpr std::size_t kJobs = 4000;

std::vector<Observation> sampleRows(std::size_t n, bool seenAtVisits = false) {
    std::vector<Observation> rows = std::move(observationsByGroup(sampleLives(n, 1)).front());
    if (seenAtVisits)
        for (Observation& row : rows) {
            const bool cameBack = row.cameBack();
            row.lower = 8000 * std::floor(row.lower / 8000); // the visit before
            row.upper = cameBack ? row.lower + 8000 : std::numeric_limits<double>::infinity();
        }
    return rows;
}

/// The sample as lives of a shop, with unseen miles behind most that hold.
std::vector<Life> shopLives(std::size_t n) {
    const Lives columns = sampleLives(n, 1);
    std::vector<Life> lives(n);
    for (std::size_t i = 0; i < n; ++i) {
        lives[i].state = columns.cameBack(i) ? LifeState::CameBack : LifeState::Holding;
        lives[i].known = Distance::miles(static_cast<std::int64_t>(columns.miles[i]));
        if (!columns.cameBack(i))
            lives[i].unseen = Distance::miles(static_cast<std::int64_t>(500 * (i % 40)));
    }
    return lives;
}

// Floors.

void CurvesOfKnown(benchmark::State& state) {
    const auto lives = shopLives(static_cast<std::size_t>(state.range(0)));
    for (auto _ : state) {
        const Counts counts = countsOfAll(toColumns(lives, DistanceUnit::Miles).lives);
        benchmark::DoNotOptimize(survivalCurve(counts, {0.95, LimitMethod::Linear})->lower.data());
    }
}

void CurvesOfGroups(benchmark::State& state) {
    const Lives lives = sampleLives(kJobs, static_cast<std::uint32_t>(state.range(0)));
    for (auto _ : state)
        for (const Counts& counts : countsByGroup(lives))
            benchmark::DoNotOptimize(survivalCurve(counts)->lower.data());
}

void OneWeibullFit(benchmark::State& state) {
    const LifeData data = lifeData(sampleRows(kJobs));
    for (auto _ : state)
        benchmark::DoNotOptimize(fitLife(data, LifeModel::Weibull)->location);
}

// Reading every row once and taking its logarithm and power, which no likelihood gets around.
void OnePassOfPowers(benchmark::State& state) {
    const auto rows = sampleRows(kJobs);
    for (auto _ : state) {
        double sum = 0;
        for (const Observation& row : rows)
            sum += row.weight * (std::log(row.lower + 1) + std::pow(row.lower / 60000, 1.5));
        benchmark::DoNotOptimize(sum);
    }
}

void OneTurnbull(benchmark::State& state) {
    const auto rows = sampleRows(static_cast<std::size_t>(state.range(0)), true);
    for (auto _ : state)
        benchmark::DoNotOptimize(turnbull(rows)->intervals.data());
}

// So many random lives and nothing else.
void DrawnLives(benchmark::State& state) {
    std::mt19937_64 random(1);
    for (auto _ : state) {
        double sum = 0;
        for (std::int64_t i = 0; i < 2000 * state.range(0); ++i)
            sum -= std::log((static_cast<double>(random() >> 11) + 0.5) * 0x1.0p-53);
        benchmark::DoNotOptimize(sum);
    }
}

// Methods.

void Pooling_of_CurvesOfGroups(benchmark::State& state) {
    const auto counts = countsByGroup(sampleLives(kJobs, static_cast<std::uint32_t>(state.range(0))));
    for (auto _ : state)
        benchmark::DoNotOptimize(pooledRates(counts)->shape);
}

void Funnel_of_CurvesOfGroups(benchmark::State& state) {
    const Lives lives = sampleLives(kJobs, static_cast<std::uint32_t>(state.range(0)));
    for (auto _ : state)
        benchmark::DoNotOptimize(funnel(observedAndExpected(lives)).points.data());
}

void Warranty_of_OneWeibullFit(benchmark::State& state) {
    const auto rows = sampleRows(kJobs);
    std::vector<double> yearly;
    for (int i = 0; i < 400; ++i)
        yearly.push_back(6000 + 40.0 * i);
    WarrantyOptions options;
    options.replicates = static_cast<int>(state.range(0));
    for (auto _ : state)
        benchmark::DoNotOptimize(warrantyCost(rows, yearly, {}, options)->share.value);
}

// Each life that holds is worth a call or not: the width of the limits with and without it.
void CallValues_of_CurvesOfKnown(benchmark::State& state) {
    const auto lives = shopLives(static_cast<std::size_t>(state.range(0)));
    for (auto _ : state) {
        CallValuer valuer(countsOfAll(toColumns(lives, DistanceUnit::Miles).lives), 40000, 0.95);
        double sum = 0;
        for (const Life& life : lives)
            if (!life.cameBack()) {
                const double from = life.known.in(DistanceUnit::Miles);
                sum += valuer.valueOf(from, from + life.unseen.in(DistanceUnit::Miles)).shrink();
            }
        benchmark::DoNotOptimize(sum);
    }
}

void Evidence_of_CurvesOfKnown(benchmark::State& state) {
    const auto lives = shopLives(static_cast<std::size_t>(state.range(0)));
    for (auto _ : state)
        benchmark::DoNotOptimize(evidenceOf(lives, DistanceUnit::Miles, Distance::miles(40000))->known);
}

void ThreeReadings_of_CurvesOfKnown(benchmark::State& state) {
    const auto lives = shopLives(static_cast<std::size_t>(state.range(0)));
    for (auto _ : state)
        benchmark::DoNotOptimize(readingCurves(lives, DistanceUnit::Miles)->known.lives);
}

void CusumLimit_of_DrawnLives(benchmark::State& state) {
    std::vector<double> enters;
    for (std::int64_t i = 0; i < state.range(0); ++i)
        enters.push_back(365.0 * static_cast<double>(i) / static_cast<double>(state.range(0)));
    const ExpectedHazard hazard = [](double age) { return std::pow(age / 2000, 1.3); };
    for (auto _ : state)
        benchmark::DoNotOptimize(*cusumLimit(enters, hazard));
}

void TurnbullBootstrap200_of_OneTurnbull(benchmark::State& state) {
    const auto rows = sampleRows(static_cast<std::size_t>(state.range(0)), true);
    const double at[] = {16000, 40000};
    for (auto _ : state)
        benchmark::DoNotOptimize(bootstrapLimits(rows, at, 0.95, 200, 1)->data());
}

void Distribution_of_OnePassOfPowers(benchmark::State& state, LifeModel model) {
    const LifeData data = lifeData(sampleRows(kJobs));
    for (auto _ : state)
        benchmark::DoNotOptimize(fitLife(data, model)->location);
}

void AveragedModels_of_OneWeibullFit(benchmark::State& state) {
    const LifeData data = lifeData(sampleRows(kJobs));
    const double at[] = {20000, 40000};
    for (auto _ : state)
        benchmark::DoNotOptimize(averagedSurvival(data, at, 0.95)->at.data());
}

void ProfileLimits_of_OneWeibullFit(benchmark::State& state) {
    const LifeData data = lifeData(sampleRows(kJobs));
    const auto fit = fitLife(data, LifeModel::Weibull);
    for (auto _ : state)
        benchmark::DoNotOptimize(profileQuantile(data, *fit, 0.1, 0.95).lower);
}

void Plan(benchmark::State& state) {
    double ratio = 1.5;
    for (auto _ : state) {
        benchmark::DoNotOptimize(ratio);
        benchmark::DoNotOptimize(comebacksNeeded({ratio, 0.95, 0.8, 0.5})->schoenfeld);
    }
}

} // namespace

BENCHMARK(CurvesOfGroups)->Arg(6)->Arg(40)->Unit(benchmark::kMicrosecond);
BENCHMARK(Pooling_of_CurvesOfGroups)->Arg(6)->Arg(40)->Unit(benchmark::kMicrosecond);
BENCHMARK(Funnel_of_CurvesOfGroups)->Arg(6)->Arg(40)->Unit(benchmark::kMicrosecond);
BENCHMARK(OnePassOfPowers)->Unit(benchmark::kMicrosecond);
BENCHMARK_CAPTURE(Distribution_of_OnePassOfPowers, Weibull, LifeModel::Weibull)
    ->Unit(benchmark::kMicrosecond);
BENCHMARK_CAPTURE(Distribution_of_OnePassOfPowers, Lognormal, LifeModel::Lognormal)
    ->Unit(benchmark::kMicrosecond);
BENCHMARK_CAPTURE(Distribution_of_OnePassOfPowers, Exponential, LifeModel::Exponential)
    ->Unit(benchmark::kMicrosecond);
BENCHMARK(OneWeibullFit)->Unit(benchmark::kMicrosecond);
BENCHMARK(AveragedModels_of_OneWeibullFit)->Unit(benchmark::kMicrosecond);
BENCHMARK(ProfileLimits_of_OneWeibullFit)->Unit(benchmark::kMicrosecond);
BENCHMARK(Warranty_of_OneWeibullFit)->Arg(1000)->Unit(benchmark::kMicrosecond);
BENCHMARK(CurvesOfKnown)->Arg(400)->Arg(4000)->Unit(benchmark::kMicrosecond);
BENCHMARK(Evidence_of_CurvesOfKnown)->Arg(400)->Arg(4000)->Unit(benchmark::kMicrosecond);
BENCHMARK(ThreeReadings_of_CurvesOfKnown)->Arg(400)->Arg(4000)->Unit(benchmark::kMicrosecond);
BENCHMARK(CallValues_of_CurvesOfKnown)->Arg(400)->Unit(benchmark::kMicrosecond);
BENCHMARK(DrawnLives)->Arg(60)->Unit(benchmark::kMicrosecond);
BENCHMARK(CusumLimit_of_DrawnLives)->Arg(60)->Unit(benchmark::kMicrosecond);
BENCHMARK(OneTurnbull)->Arg(400)->Unit(benchmark::kMicrosecond);
BENCHMARK(TurnbullBootstrap200_of_OneTurnbull)->Arg(400)->Unit(benchmark::kMicrosecond);
BENCHMARK(Plan)->Unit(benchmark::kMicrosecond);

} // namespace milehold::benchmarks
