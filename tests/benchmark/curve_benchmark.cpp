// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/curve_taking.h"
#include "tests/benchmark/sample_lives.h"

#include <benchmark/benchmark.h>

#include <array>
#include <numeric>
#include <vector>

namespace milehold::benchmarks {

namespace {

using core::LimitMethod;

// The floor: a least-significant-digit radix sort of the same whole mileages and nothing else.
void radixSort(std::vector<std::uint32_t>& keys, std::vector<std::uint32_t>& other) {
    constexpr int kBits = 9;
    for (int shift = 0; shift < 18; shift += kBits) {
        std::array<std::uint32_t, (1U << kBits)> starts{};
        for (const std::uint32_t key : keys)
            ++starts[(key >> shift) & ((1U << kBits) - 1)];
        std::uint32_t start = 0;
        for (auto& count : starts)
            start += std::exchange(count, start);
        for (const std::uint32_t key : keys)
            other[starts[(key >> shift) & ((1U << kBits) - 1)]++] = key;
        keys.swap(other);
    }
}

void FloorRadixSort(benchmark::State& state) {
    const core::Lives lives = sampleLives(static_cast<std::size_t>(state.range(0)), 4);
    const std::vector<std::uint32_t> keys(lives.miles.begin(), lives.miles.end());
    std::vector<std::uint32_t> sorted;
    std::vector<std::uint32_t> other(keys.size());
    for (auto _ : state) {
        state.PauseTiming();
        sorted = keys;
        state.ResumeTiming();
        radixSort(sorted, other);
        benchmark::DoNotOptimize(sorted.data());
    }
    if (!std::is_sorted(sorted.begin(), sorted.end()))
        state.SkipWithError("not sorted");
}

void CountsOfLives(benchmark::State& state) {
    const core::Lives lives = sampleLives(static_cast<std::size_t>(state.range(0)), 4);
    for (auto _ : state)
        benchmark::DoNotOptimize(core::countsByGroup(lives));
}

void Curves(benchmark::State& state, LimitMethod limits, std::uint32_t groups) {
    const core::Lives lives = sampleLives(static_cast<std::size_t>(state.range(0)), groups);
    std::size_t steps = 0;
    for (auto _ : state) {
        steps = 0;
        for (core::Counts& counts : core::countsByGroup(lives)) {
            const auto curve = core::curveTaking(std::move(counts), {0.95, limits});
            steps += curve->size();
            benchmark::DoNotOptimize(curve->lower.data());
        }
    }
    state.counters["steps"] = static_cast<double>(steps);
}

} // namespace

constexpr std::int64_t kMillion = 1000000;
BENCHMARK(FloorRadixSort)->Arg(kMillion)->Unit(benchmark::kMillisecond);
BENCHMARK(CountsOfLives)->Arg(kMillion)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(Curves, LogLog, LimitMethod::LogLog, 4)
    ->RangeMultiplier(10)
    ->Range(10000, 10000000)
    ->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(Curves, Exact, LimitMethod::Exact, 4)
    ->RangeMultiplier(10)
    ->Range(10000, 10000000)
    ->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(Curves, ExactMidP, LimitMethod::ExactMidP, 4)->Arg(kMillion)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(Curves, LogLogOf40, LimitMethod::LogLog, 40)->Arg(kMillion)->Unit(benchmark::kMillisecond);

} // namespace milehold::benchmarks
