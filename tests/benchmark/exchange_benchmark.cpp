// SPDX-License-Identifier: GPL-3.0-or-later
// Reading a lives table, beside libcsv splitting the same bytes into cells and doing nothing with them, and
// beside a search for the ends of the lines.
#include "storage/exchange/lives_table.h"
#include "tests/benchmark/sample_lives.h"

#include <benchmark/benchmark.h>

#include <cstring>
#include <csv.h>

namespace milehold::benchmarks {

namespace {

std::string sampleTable(std::size_t rows) {
    const core::Lives lives = sampleLives(rows, 4);
    std::string text = "miles,end,group\n";
    for (std::size_t i = 0; i < rows; ++i)
        text += std::to_string(static_cast<long>(lives.miles[i])) + ',' + lives.endNames[lives.end[i]] + ',' +
                lives.groupNames[lives.group[i]] + '\n';
    return text;
}

void FloorLineEnds(benchmark::State& state) {
    const std::string text = sampleTable(static_cast<std::size_t>(state.range(0)));
    for (auto _ : state) {
        std::size_t lines = 0;
        const char* at = text.data();
        const char* const end = at + text.size();
        while ((at = static_cast<const char*>(std::memchr(at, '\n', static_cast<std::size_t>(end - at)))) !=
               nullptr) {
            ++lines;
            ++at;
        }
        benchmark::DoNotOptimize(lines);
    }
    state.SetBytesProcessed(state.iterations() * static_cast<std::int64_t>(text.size()));
}

void RivalLibcsvCells(benchmark::State& state) {
    const std::string text = sampleTable(static_cast<std::size_t>(state.range(0)));
    std::size_t cells = 0;
    for (auto _ : state) {
        csv_parser parser;
        if (csv_init(&parser, CSV_STRICT | CSV_STRICT_FINI) != 0)
            state.SkipWithError("no parser");
        const auto cell = [](void*, std::size_t, void* count) { ++*static_cast<std::size_t*>(count); };
        const auto row = [](int, void*) {};
        if (csv_parse(&parser, text.data(), text.size(), cell, row, &cells) != text.size())
            state.SkipWithError("not read");
        csv_fini(&parser, cell, row, &cells);
        csv_free(&parser);
    }
    benchmark::DoNotOptimize(cells);
    state.SetBytesProcessed(state.iterations() * static_cast<std::int64_t>(text.size()));
}

void ReadLivesTable(benchmark::State& state) {
    const std::string text = sampleTable(static_cast<std::size_t>(state.range(0)));
    for (auto _ : state) {
        const auto table = storage::readLivesTable(storage::bytesOf(text), "text");
        if (!table || table->lives.size() != static_cast<std::size_t>(state.range(0)))
            state.SkipWithError("not read");
    }
    state.SetBytesProcessed(state.iterations() * static_cast<std::int64_t>(text.size()));
}

} // namespace

BENCHMARK(FloorLineEnds)->Arg(1000000)->Unit(benchmark::kMillisecond);
BENCHMARK(RivalLibcsvCells)->Arg(1000000)->Unit(benchmark::kMillisecond);
BENCHMARK(ReadLivesTable)->Arg(1000000)->Unit(benchmark::kMillisecond);

} // namespace milehold::benchmarks
