// SPDX-License-Identifier: GPL-3.0-or-later
// What a quote says of its evidence, of like paths, of what lies beyond, and before the first comeback.
#include "core/quote/path_evidence.h"
#include "core/survival/pooling.h"
#include "tests/core/quote/quote_of_a_path.h"

#include <gtest/gtest.h>

#include <cmath>

namespace milehold::core {
namespace {

using namespace testing_support;

class QuoteEvidence : public QuoteOfAPath {
protected:
    /// A repair of another path of the shelf on an engine.
    LifeRecord& addOther(RepairPathId path, EngineFamilyId family, std::int64_t knownMiles,
                         LifeState state = LifeState::Holding) {
        LifeRecord& record = add(knownMiles, state);
        record.life.path = path;
        record.family = family;
        return record;
    }
};

// By 24,000 none of 12 came back: at least 0.05^(1/12) = 0.779 (exact, Clopper & Pearson 1934), one-sided,
// and every place that says so says the same number.
TEST_F(QuoteEvidence, SaysOneThingBeforeTheFirstComeback) {
    addMany(12, 50'000);
    const PathQuote quote = first();
    ASSERT_TRUE(quote.horizon.atLeast);
    EXPECT_NEAR(*quote.horizon.atLeast, std::pow(0.05, 1.0 / 12), 1e-12);
    EXPECT_FALSE(quote.horizon.chance);
    EXPECT_NE(quote.sentence.find("one-sided, only that at least 77 % are still quiet"), std::string::npos)
        << quote.sentence;
    add(30'000, LifeState::CameBack); // later: the rule holds up to there
    const PathQuote later = first();
    EXPECT_NEAR(later.horizon.atLeast.value(), std::pow(0.05, 1.0 / 13), 1e-12);
    EXPECT_FALSE(later.horizon.chance);
    EXPECT_TRUE(later.byMark[2].chance) << "at 40,000 one has come back";
    EXPECT_FALSE(later.byMark[2].atLeast);
}

// Of 10 watched to 50,000 and 10 to 12,000 with 20,000 unseen, 2 of the first came back at 20,000.
// Known: 8/10. Best: 18/20. Worst: ten fail just after 12,000, then 2 of 10: 0.5 * 0.8 = 0.4.
TEST_F(QuoteEvidence, GivesTheThreeReadingsAndTheSumsOfFollowUp) {
    addMany(8, 50'000);
    addMany(2, 20'000, LifeState::CameBack);
    for (int i = 0; i < 10; ++i)
        add(12'000, i < 3 ? LifeState::LostSight : LifeState::Holding, 20'000);
    for (std::size_t i = 10; i < 13; ++i)
        lives[i].life.lostReason = LostReason::Sold;
    const PathQuote quote = first();
    const EvidenceFacts& facts = quote.evidenceFacts;
    EXPECT_NEAR(facts.readings.best.value(), 0.9, 1e-12);
    EXPECT_NEAR(facts.readings.known.value(), 0.8, 1e-12);
    EXPECT_NEAR(facts.readings.worst.value(), 0.4, 1e-12);
    EXPECT_NEAR(facts.evidence.known, 8 * 50'000 + 2 * 20'000 + 10 * 12'000, 1e-6);
    EXPECT_NEAR(facts.evidence.unseen.all(), 200'000, 1e-6);
    EXPECT_EQ(facts.evidence.sold, 3U);
    EXPECT_NEAR(facts.evidence.completeness.value(), 560.0 / 760, 1e-12);
    // 8 in 10 is claimed; with a share q of the ten failed at 12,000 the chance is
    // (1 - q/2) (1 - 2 / (20 - 10 q)): at q = 1/5 it is 0.9 * (1 - 2/18) = 0.8.
    EXPECT_NEAR(facts.claim.value(), 0.8, 1e-12);
    ASSERT_TRUE(facts.tipping);
    EXPECT_EQ(facts.tipping->verdict, TippingPoint::Verdict::Falls);
    EXPECT_NEAR(facts.tipping->share.value(), 0.2, 1e-6);
    const std::string line = evidenceLine(facts);
    EXPECT_NE(
        line.find("Followed for 74 % of all miles driven since these repairs: 560,000 miles known, 200,000 "
                  "miles that nobody has checked."),
        std::string::npos)
        << line;
    EXPECT_NE(line.find("Lost sight of 3 of 20: 3 sold."), std::string::npos) << line;
    EXPECT_NE(line.find("best 90 %, known 80 %, worst 40 %"), std::string::npos) << line;
    EXPECT_NE(line.find("That at least 8 in 10 are quiet at 24,000 miles falls when 20 % of the 10 unchecked "
                        "repairs have failed right away."),
              std::string::npos)
        << line;
}

TEST_F(QuoteEvidence, ClaimsNothingWhereTooFewAreWatched) {
    addMany(3, 50'000);
    add(10'000, LifeState::Holding, 9'000);
    const PathQuote quote = first();
    EXPECT_FALSE(quote.evidenceFacts.claim);
    EXPECT_EQ(evidenceLine(quote.evidenceFacts).find("best"), std::string::npos);
}

// The pooled figure is that of pooledSurvival for the same counts (its own tests hold the arithmetic).
TEST_F(QuoteEvidence, PutsAPooledFigureBesideARawOneThatRestsOnFewComebacks) {
    const auto otherEngine = key<EngineFamilyId>(77);
    addMany(6, 40'000);
    add(15'000, LifeState::CameBack);
    const std::size_t own = lives.size();
    for (int i = 0; i < 12; ++i)
        addOther(s.phasers, otherEngine, 40'000 + 1'000 * i);
    for (int i = 0; i < 6; ++i)
        addOther(s.phasers, otherEngine, 9'000 + 3'000 * i, LifeState::CameBack);
    const PathQuote quote = first();
    ASSERT_TRUE(quote.pooled) << quote.notPooled;
    EXPECT_EQ(quote.pooled->likePaths, 1);
    EXPECT_EQ(quote.pooled->lives, 18);
    EXPECT_EQ(quote.pooled->jobs.size(), 18U);
    std::vector<Life> mine;
    std::vector<Life> theirs;
    for (std::size_t i = 0; i < lives.size(); ++i)
        (i < own ? mine : theirs).push_back(lives[i].life);
    const std::vector<Counts> counts{countsOfAll(toColumns(mine, DistanceUnit::Miles).lives),
                                     countsOfAll(toColumns(theirs, DistanceUnit::Miles).lives)};
    const auto pooling = pooledRates(counts);
    ASSERT_TRUE(pooling);
    const PooledSurvival expected = pooledSurvival(*pooling, 0, 24'000, 0.95);
    EXPECT_NEAR(quote.pooled->survival, expected.survival, 1e-9);
    EXPECT_NEAR(quote.pooled->lower, expected.lower, 1e-9);
    EXPECT_NEAR(quote.pooled->weightFromOthers, pooling->paths[0].weightFromOthers, 1e-9);
    EXPECT_NE(quote.sentence.find("Taken together with 1 like path"), std::string::npos) << quote.sentence;
    // With comebacks enough of its own it speaks for itself.
    lives.erase(lives.begin() + static_cast<std::ptrdiff_t>(own), lives.end());
    addMany(4, 12'000, LifeState::CameBack); // five with the one above
    EXPECT_FALSE(first().pooled);
    EXPECT_EQ(first().notPooled, "");
}

TEST_F(QuoteEvidence, PoolsOnlyPathsOfTheSameMainWork) {
    addMany(6, 40'000);
    const auto valves = SmallShelf().shelf.paths[1];
    s.shelf.paths.push_back(valves);
    for (int i = 0; i < 12; ++i)
        addOther(valves.id, s.family, 10'000 + 2'000 * i, LifeState::CameBack);
    EXPECT_EQ(mainWork(s.shelf.paths[0], s.shelf), MainWork::Phasers);
    EXPECT_EQ(mainWork(valves, s.shelf), MainWork::Valves);
    const Quote quote = make();
    for (const PathQuote& path : quote.paths) {
        if (path.path == s.phasers) {
            EXPECT_FALSE(path.pooled);
            EXPECT_EQ(path.notPooled, "no like path has a repair yet");
        }
    }
}

TEST_F(QuoteEvidence, ProjectsOnlyWhenAskedAndSaysSo) {
    for (int i = 0; i < 8; ++i)
        add(4'000 + 2'000 * i, LifeState::CameBack);
    addMany(12, 26'000);
    options.horizon = 40'000;
    const PathQuote plain = first();
    EXPECT_TRUE(plain.horizon.beyond);
    EXPECT_FALSE(plain.horizon.projected);
    EXPECT_EQ(plain.sentence.find("rojection"), std::string::npos);
    options.project = true;
    const PathQuote quote = first();
    EXPECT_FALSE(quote.horizon.chance) << "a projection is never the estimate";
    ASSERT_TRUE(quote.horizon.projected);
    EXPECT_NE(quote.sentence.find("Projection, not watched: a Weibull life would leave about"),
              std::string::npos);
    ASSERT_TRUE(quote.projection);
    EXPECT_NEAR(quote.projection->from, 26'000, 1e-6);
    EXPECT_NEAR(quote.projection->to, 52'000, 1e-6) << "at most twice as far as any was watched";
    std::vector<Life> all;
    for (const auto& record : lives)
        all.push_back(record.life);
    const auto fit =
        fitLife(lifeData(countsOfAll(toColumns(all, DistanceUnit::Miles).lives)), LifeModel::Weibull);
    ASSERT_TRUE(fit);
    EXPECT_NEAR(quote.horizon.projected->chance, survivalAt(*fit, 40'000, 0.95).survival, 1e-12);
    EXPECT_FALSE(quote.byMark[5].projected) << "100,000 is further than a projection goes";
    EXPECT_FALSE(quote.byYear[0].projected) << "12,000 was watched";
}

TEST_F(QuoteEvidence, RefusesToProjectFromFewComebacks) {
    add(10'000, LifeState::CameBack);
    addMany(12, 20'000);
    options.project = true;
    const PathQuote quote = first();
    EXPECT_FALSE(quote.projection);
    EXPECT_EQ(quote.notProjected, "too few comebacks to project from");
}

} // namespace
} // namespace milehold::core
