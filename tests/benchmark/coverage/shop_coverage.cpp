// SPDX-License-Identifier: GPL-3.0-or-later
// How often the default limits hold the truth in whole shops, by how well the shop follows its repairs up.
// Prints the second table of resources/manual/coverage.md:
//
//     milehold_shop_coverage [shops] [jobs] > table.md
//
// Each shop is the sample with another seed, whose truth is known; its lives are read from its records as any
// shop's are. A path counts where a quote would give an estimate, so that lost comebacks and late calls shift
// what is counted as they do in a shop.
#include "core/life/life.h"
#include "core/quote/path_evidence.h"
#include "sample-shop/sample_shop.h"
#include "sample-shop/truth.h"

#include <cstdio>
#include <cstdlib>
#include <span>
#include <unordered_map>
#include <vector>

namespace {

using namespace milehold;

constexpr double kLevel = 0.95;
constexpr double kMiles[] = {20'000, 40'000};
constexpr sample::PathKey kPaths[] = {sample::PathKey::ControlValves, sample::PathKey::AllPhasers,
                                      sample::PathKey::PhasersAndChain};

struct Habit {
    sample::FollowUpHabit habit;
    const char* words;
};
constexpr Habit kHabits[] = {{sample::FollowUpHabit::Everybody, "everybody is called"},
                             {sample::FollowUpHabit::Typical, "typical"},
                             {sample::FollowUpHabit::OnlyUnhappy, "only the unhappy are heard of"}};

struct Sum {
    int shops = 0, held = 0;
    double truth = 0, estimate = 0;
};

/// Adds one shop to the sums of [path][distance]; false when it cannot be made.
bool addShop(const sample::SampleOptions& options, Sum (&sums)[std::size(kPaths)][std::size(kMiles)]) {
    const auto shop = sample::generate(options);
    if (!shop)
        return false;
    std::unordered_map<core::JobId, sample::PathKey> paths;
    for (const auto& truth : shop->truth.lives)
        paths.emplace(truth.job, truth.path);
    std::vector<core::Life> lives[std::size(kPaths)];
    for (const auto& history : sample::histories(*shop)) {
        const auto derived = core::deriveLives(history, shop->settings, shop->endsOn);
        if (!derived)
            return false;
        for (const auto& life : *derived)
            for (std::size_t p = 0; p < std::size(kPaths); ++p)
                if (paths.at(life.job) == kPaths[p])
                    lives[p].push_back(life);
    }
    for (std::size_t p = 0; p < std::size(kPaths); ++p) {
        const auto counts = core::countsOfAll(core::toColumns(lives[p], core::DistanceUnit::Miles).lives);
        const auto watched = core::WatchedSet::of(counts, kLevel);
        if (!watched)
            continue;
        for (std::size_t m = 0; m < std::size(kMiles); ++m) {
            const auto point = watched->pointAt(kMiles[m]);
            if (!point.chance)
                continue;
            const double truth = shop->truth.survival(kPaths[p], kMiles[m]);
            Sum& sum = sums[p][m];
            ++sum.shops;
            sum.held += *point.lower <= truth && truth <= *point.upper ? 1 : 0;
            sum.truth += truth;
            sum.estimate += *point.chance;
        }
    }
    return true;
}

} // namespace

int main(int argc, char** argv) {
    const int shops = argc > 1 ? std::atoi(argv[1]) : 200;
    const int jobs = argc > 2 ? std::atoi(argv[2]) : 400;
    std::printf("| follow-up | path | at | truth | mean estimate | limits hold it, of 100 | shops |\n"
                "|---|---|---|---|---|---|---|\n");
    for (const Habit& habit : kHabits) {
        Sum sums[std::size(kPaths)][std::size(kMiles)];
        for (int seed = 1; seed <= shops; ++seed) {
            sample::SampleOptions options;
            options.jobs = jobs;
            options.habit = habit.habit;
            options.seed = static_cast<std::uint64_t>(seed);
            if (!addShop(options, sums))
                return EXIT_FAILURE;
        }
        for (std::size_t p = 0; p < std::size(kPaths); ++p)
            for (std::size_t m = 0; m < std::size(kMiles); ++m) {
                const Sum& sum = sums[p][m];
                if (sum.shops == 0)
                    continue;
                const double n = sum.shops;
                std::printf("| %s | %s | %.0f mi | %.3f | %.3f | %.1f | %d |\n", habit.words,
                            sample::lawOf(kPaths[p]).name.data(), kMiles[m], sum.truth / n, sum.estimate / n,
                            100 * sum.held / n, sum.shops);
            }
    }
    return EXIT_SUCCESS;
}
