// SPDX-License-Identifier: GPL-3.0-or-later
// What the curves of so many lives hold at most, beside the columns that they read and fill: the counters say
// both in MB and their ratio. Linux counts the peak of a process; elsewhere the benchmark says that it
// cannot.
#include "core/survival/curve_taking.h"
#include "tests/benchmark/sample_lives.h"

#include <benchmark/benchmark.h>

#include <fstream>
#include <malloc.h>
#include <optional>
#include <string>
#include <vector>

namespace milehold::benchmarks {

namespace {

constexpr double kMegabyte = 1e6;

/// A number of /proc/self/status, in MB: `VmRSS:` now, `VmHWM:` the peak.
std::optional<double> statusOf(const std::string& name) {
    std::ifstream status("/proc/self/status");
    for (std::string word; status >> word;)
        if (double kilobytes = 0; word == name && status >> kilobytes)
            return kilobytes * 1024 / kMegabyte;
    return std::nullopt;
}

/// From here on the peak is counted anew.
bool forgetPeak() {
    std::ofstream forget("/proc/self/clear_refs");
    forget << "5" << std::flush;
    return forget.good();
}

template <class T> double bytesOf(const std::vector<T>& column) {
    return static_cast<double>(column.size() * sizeof(T));
}

void PeakMemory(benchmark::State& state) {
    double columns = 0;
    double peak = 0;
    for (auto _ : state) {
        malloc_trim(0); // what earlier benchmarks left behind is not ours
        const auto before = statusOf("VmRSS:");
        const core::Lives lives = sampleLives(static_cast<std::size_t>(state.range(0)), 4);
        columns = bytesOf(lives.miles) + bytesOf(lives.end) + bytesOf(lives.group);
        if (!before || !forgetPeak()) {
            state.SkipWithError("the peak of the process is not to be read here");
            break;
        }
        std::vector<core::Curve> curves;
        for (core::Counts& counts : core::countsByGroup(lives))
            curves.push_back(*core::curveTaking(std::move(counts), {0.95, core::LimitMethod::LogLog}));
        for (const core::Curve& curve : curves)
            for (const auto* column :
                 {&curve.miles, &curve.watched, &curve.comebacksAt, &curve.leftAt, &curve.survival, &curve.se,
                  &curve.lower, &curve.upper, &curve.cumulativeHazard, &curve.cumulativeHazardSe})
                columns += bytesOf(*column);
        peak = *statusOf("VmHWM:") - *before;
    }
    state.counters["columns_MB"] = columns / kMegabyte;
    state.counters["peak_MB"] = peak;
    state.counters["peak_of_columns"] = peak / (columns / kMegabyte);
}

} // namespace

BENCHMARK(PeakMemory)->Arg(1000000)->Arg(10000000)->Iterations(1)->Unit(benchmark::kMillisecond);

} // namespace milehold::benchmarks
