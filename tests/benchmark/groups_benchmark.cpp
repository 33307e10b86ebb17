// SPDX-License-Identifier: GPL-3.0-or-later
// Comparisons, several ends and repeats beside the curves of the same million lives (Curves/LogLog/1000000).
#include "core/survival/compare.h"
#include "core/survival/ends.h"
#include "core/survival/histories.h"
#include "tests/benchmark/sample_lives.h"

#include <benchmark/benchmark.h>

namespace milehold::benchmarks {

namespace {

void LogRank(benchmark::State& state) {
    const core::Lives lives = sampleLives(static_cast<std::size_t>(state.range(0)), 4);
    for (auto _ : state) {
        const auto result = core::compare(core::countsByStratum(lives));
        benchmark::DoNotOptimize(*result->chiSquare);
    }
}

void Ends(benchmark::State& state) {
    const core::Lives lives = sampleLives(static_cast<std::size_t>(state.range(0)), 4);
    const core::EndCode ends[] = {1, 2, 3};
    for (auto _ : state)
        for (const core::Counts& counts : core::countsByGroup(lives, true)) {
            const auto curves = core::endCurves(counts, ends);
            benchmark::DoNotOptimize(curves->ends.data());
        }
}

void Gray(benchmark::State& state) {
    const core::Lives lives = sampleLives(static_cast<std::size_t>(state.range(0)), 4);
    const auto counts = core::countsByGroup(lives, true);
    for (auto _ : state) {
        const auto test = core::grayTest(counts, core::kCameBack);
        benchmark::DoNotOptimize(test->value);
    }
}

// The rows as moments of histories of a quarter as many vehicles.
void Repeats(benchmark::State& state) {
    core::Lives lives = sampleLives(static_cast<std::size_t>(state.range(0)), 4);
    for (std::size_t i = 0; i < lives.size(); ++i)
        lives.vehicle.push_back(static_cast<std::uint32_t>(i % (lives.size() / 4)));
    const auto histories = core::historiesByGroup(lives);
    for (auto _ : state)
        for (const core::Histories& group : histories) {
            const auto curve = core::meanCurve(group);
            benchmark::DoNotOptimize(curve->mean.data());
        }
}

// Eight comebacks among 200 lives: what a page with few comebacks costs.
void PermutationP(benchmark::State& state) {
    core::Lives lives = sampleLives(200, 2);
    int comebacks = 0;
    for (auto& end : lives.end)
        if (end == core::kCameBack && ++comebacks > 8)
            end = core::kHolding;
    for (auto _ : state)
        benchmark::DoNotOptimize(*core::permutationP(lives, {}));
}

} // namespace

BENCHMARK(LogRank)->RangeMultiplier(10)->Range(10000, 10000000)->Unit(benchmark::kMillisecond);
BENCHMARK(Ends)->Arg(1000000)->Unit(benchmark::kMillisecond);
BENCHMARK(Gray)->Arg(1000000)->Unit(benchmark::kMillisecond);
BENCHMARK(Repeats)->Arg(1000000)->Unit(benchmark::kMillisecond);
BENCHMARK(PermutationP)->Unit(benchmark::kMillisecond);

} // namespace milehold::benchmarks
