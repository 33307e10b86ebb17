// SPDX-License-Identifier: GPL-3.0-or-later
// The seeds of the fuzzers and simple mutations of them, run on each commit by the ordinary compiler: an
// input that once broke something stays mended.
#include "tests/fuzz/targets.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <random>
#include <string>
#include <vector>

namespace milehold::fuzz {

namespace {

namespace fs = std::filesystem;

std::vector<std::string> seedsOf(const char* target) {
    std::vector<fs::path> files;
    for (const auto& entry :
         fs::directory_iterator(fs::path(MILEHOLD_SOURCE_DIR) / "tests/fuzz/seeds" / target))
        files.push_back(entry.path());
    std::ranges::sort(files);
    std::vector<std::string> seeds;
    for (const auto& file : files) {
        std::ifstream in(file, std::ios::binary);
        seeds.emplace_back(std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>());
    }
    return seeds;
}

std::string mutated(std::string bytes, std::mt19937_64& random) {
    for (auto changes = 1 + random() % 4; changes > 0 && !bytes.empty(); --changes) {
        const auto at = random() % bytes.size();
        switch (random() % 5) {
        case 0:
            bytes[at] = static_cast<char>(random());
            break;
        case 1:
            bytes.erase(at, 1 + random() % 8);
            break;
        case 2:
            bytes.insert(at, bytes.substr(random() % bytes.size(), 1 + random() % 30));
            break;
        case 3:
            bytes.resize(at);
            break;
        default:
            bytes.insert(at, 1, "\",\n\r;=\xff\0'"[random() % 9]);
            break;
        }
    }
    return bytes;
}

} // namespace

class Replay : public ::testing::TestWithParam<Target> {};

TEST_P(Replay, KeepsItsPromisesOnEverySeedAndOnMutationsOfThem) {
    const auto seeds = seedsOf(GetParam().name);
    ASSERT_GE(seeds.size(), 3U);
    std::mt19937_64 random(20310509); // NOLINT: a fixed seed is the point
    std::size_t runs = 0;
    for (const auto& seed : seeds) {
        GetParam().run(seed); // a broken promise ends the program
        ++runs;
        for (int i = 0; i < 150; ++i, ++runs)
            GetParam().run(mutated(seed, random));
    }
    std::cout << GetParam().name << ": " << seeds.size() << " seeds, " << runs
              << " inputs, no promise broken\n";
    EXPECT_EQ(runs, seeds.size() * 151);
}

INSTANTIATE_TEST_SUITE_P(Fuzz, Replay, ::testing::ValuesIn(kTargets),
                         [](const auto& made) { return std::string(made.param.name); });

} // namespace milehold::fuzz
