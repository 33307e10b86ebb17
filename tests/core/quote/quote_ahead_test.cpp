// SPDX-License-Identifier: GPL-3.0-or-later
// The conditional form, late entries, the median, and a quote of a whole shelf.
#include "tests/core/quote/quote_of_a_path.h"

#include <gtest/gtest.h>

#include <cmath>

namespace milehold::core {
namespace {

using namespace testing_support;

// Conditional on having run 20,000: nine were watched beyond, two of them came back by 44,000. No life left
// before, so 7 of 9. Source: elementary; limits Clopper & Pearson 1934 for 2 of 9: 0.0281 and 0.6001 (any
// binomial table).
TEST_F(QuoteOfAPath, QuotesWhatIsAheadOfARepairThatAlreadyRan) {
    add(10'000, LifeState::CameBack);
    add(30'000, LifeState::CameBack);
    add(40'000, LifeState::CameBack);
    addMany(7, 70'000);
    LifeRecord own = lives.back();
    own.life.job = job(99);
    own.life.known = miles(20'000);
    subject.running = own;
    const PathQuote quote = first();
    EXPECT_NEAR(quote.alreadyRun.value(), 20'000, 1e-9);
    ASSERT_EQ(quote.conditional.size(), 5U);
    EXPECT_EQ(quote.conditional[0].at, 30'000);
    EXPECT_NEAR(quote.conditional[0].chance.value(), 8.0 / 9, 1e-12);
    EXPECT_EQ(quote.conditionalHorizon->at, 44'000);
    EXPECT_NEAR(quote.conditionalHorizon->chance.value(), 7.0 / 9, 1e-12);
    EXPECT_NEAR(quote.conditionalHorizon->lower.value(), 1 - 0.6001, 5e-5);
    EXPECT_NEAR(quote.conditionalHorizon->upper.value(), 1 - 0.0281, 5e-5);
    EXPECT_NE(quote.sentence.find(
                  "This vehicle's own repair has already run 20,000 miles quietly: of the others that got "
                  "so far, about 78 % are still quiet at 44,000 miles (95 % limits 39 % to 98 %)."),
              std::string::npos)
        << quote.sentence;
}

TEST_F(QuoteOfAPath, QuotesNothingAheadOfARepairThatEndedOrOfAnotherPath) {
    addMany(10, 70'000);
    LifeRecord own = lives.back();
    own.life.state = LifeState::CameBack;
    subject.running = own;
    EXPECT_FALSE(first().alreadyRun);
    own.life.state = LifeState::Holding;
    own.life.path = key<RepairPathId>(9);
    subject.running = own;
    EXPECT_FALSE(first().alreadyRun);
    own = lives.back();
    own.life.known = miles(80'000); // further than any other
    subject.running = own;
    EXPECT_TRUE(first().alreadyRun);
    EXPECT_TRUE(first().conditionalHorizon->beyond);
    EXPECT_NE(first().sentence.find("none of the others has been followed as far as 104,000 miles."),
              std::string::npos)
        << first().sentence;
}

TEST_F(QuoteOfAPath, SaysWhatIsKnownAheadWhereTheHorizonIsTooFar) {
    add(10'000, LifeState::CameBack);
    addMany(9, 45'000);
    LifeRecord own = lives.back();
    own.life.job = job(99);
    own.life.known = miles(28'000);
    subject.running = own;
    const PathQuote quote = first();
    ASSERT_TRUE(quote.conditionalHorizon->beyond);
    // Nine got to 28,000 and past 40,000, none of them back: 0.05^(1/9) = 0.7169, one-sided.
    EXPECT_NE(quote.sentence.find(
                  "followed as far as 52,000 miles. Of the others that got so far, at 40,000 miles, "
                  "we can be 95 % sure, one-sided, only that at least 71 % are still quiet. "),
              std::string::npos)
        << quote.sentence;
    EXPECT_NE(quote.spoken.find("at 40,000 miles"), std::string::npos);
}

TEST_F(QuoteOfAPath, SaysHowManyAnotherShopRepaired) {
    add(30'000, LifeState::CameBack);
    addMany(9, 50'000);
    lives[3].life.entry = miles(10'000);
    EXPECT_EQ(first().elsewhere, 1);
    EXPECT_EQ(first().sentence.find("Of 10 repairs on this path, 1 of them done elsewhere, 1 came back ("),
              0U)
        << first().sentence;
}

TEST_F(QuoteOfAPath, SaysWhoseYearlyDistanceItIs) {
    addMany(10, 50'000);
    subject.yearly = {miles(18'500), YearlySource::Told, 0};
    EXPECT_NE(first().sentence.find("at this driver's 18,500 miles a year"), std::string::npos)
        << first().sentence;
}

TEST_F(QuoteOfAPath, HidesAnEstimateThatRestsOnASmallSetAtAnEarlyComeback) {
    add(3'000, LifeState::CameBack);
    add(3'500);
    for (int i = 0; i < 10; ++i)
        add(50'000).life.entry = miles(10'000); // first seen here at 10,000
    const PathQuote quote = first();
    EXPECT_GE(quote.horizon.watched, 5);
    EXPECT_FALSE(quote.horizon.chance) << "two were watched at the only comeback";
    EXPECT_NE(quote.sentence.find("Fewer than 5 were watched somewhere before 24,000 miles"),
              std::string::npos);
    EXPECT_NEAR(quote.known, 406'500, 0.01) << "not counted before they were seen";
}

TEST_F(QuoteOfAPath, GivesTheMedianOnlyWhereFiveAreWatched) {
    addMany(6, 10'000, LifeState::CameBack);
    addMany(5, 50'000);
    EXPECT_NEAR(first().median.value(), 10'000, 0.5);
    lives.clear();
    addMany(4, 10'000, LifeState::CameBack);
    EXPECT_FALSE(first().median);
}

class QuoteOfAShelf : public QuoteOfAPath {
protected:
    QuoteOfAShelf() { s = SmallShelf(); }
};

TEST_F(QuoteOfAShelf, ListsApplicableActivePathsCheapestFirst) {
    Quote quote = make();
    ASSERT_EQ(quote.paths.size(), 2U);
    EXPECT_EQ(quote.paths[0].name, "Oil control valves");
    EXPECT_EQ(quote.paths[1].price, Money{124'000});
    s.shelf.paths[0].price = Money{30'999};
    EXPECT_EQ(make().paths[0].name, "Phasers, both cams") << "by price, and not by name";
    s.shelf.paths[0].price = Money{31'000};
    EXPECT_EQ(make().paths[0].name, "Oil control valves") << "by name where they cost the same";
    s.shelf.paths[1].active = false;
    EXPECT_EQ(make().paths.size(), 1U);
    s.shelf.paths[0].applies[0].toYear = 2020;
    quote = make();
    EXPECT_TRUE(quote.paths.empty());
    EXPECT_EQ(quote.note,
              "No repair path on the shelf is listed for this engine family, model year and calibration.");
    subject.modelYear = std::nullopt;
    EXPECT_NE(make().note.find("depends on the model year"), std::string::npos) << make().note;
    subject.family = std::nullopt;
    EXPECT_NE(make().note.find("engine family of this vehicle is not known"), std::string::npos);
}

TEST_F(QuoteOfAShelf, NamesWhatWantsChecking) {
    s.shelf.paths[0].freshness = {day("2030-01-01"), day("2031-04-08")};
    s.shelf.parts[1].freshness = {day("2030-01-01"), day("2031-01-01")}; // the newest phaser
    s.shelf.parts[0].freshness = {day("2029-01-01"), day("2030-01-01")}; // superseded: not used any more
    s.shelf.calibrations[1].freshness = {day("2030-01-01"), day("2031-04-09")}; // due today: not stale yet
    ShelfNote note;
    note.subject = ShelfSubject::RepairPath;
    note.subjectId = s.phasers.uuid;
    note.freshness = {day("2030-01-01"), day("2030-12-31")};
    s.shelf.notes = {note};
    const auto quote = make();
    EXPECT_EQ(quote.paths[1].stale,
              (std::vector<std::string>{"This path was to be checked again by 2031-04-08.",
                                        "A note on this path was to be checked again by 2030-12-31.",
                                        "Part QP-1100 B was to be checked again by 2031-01-01."}));
    EXPECT_TRUE(quote.paths[0].stale.empty());
}

TEST_F(QuoteOfAShelf, RefusesOptionsThatCannotBe) {
    const auto refuses = [&](auto change) {
        QuoteOptions wrong = options;
        change(wrong);
        const auto made = makeQuote(lives, subject, s.shelf, settings, wrong);
        return !made && made.error().code == ErrorCode::InvalidInput;
    };
    EXPECT_TRUE(refuses([](auto& o) { o.level = 0; }));
    EXPECT_TRUE(refuses([](auto& o) { o.level = 1; }));
    EXPECT_TRUE(refuses([](auto& o) { o.level = std::nan(""); }));
    EXPECT_TRUE(refuses([](auto& o) { o.horizon = -1; }));
    EXPECT_TRUE(refuses([](auto& o) { o.marks = {0}; }));
    EXPECT_TRUE(refuses([](auto& o) { o.years = {0}; }));
    EXPECT_TRUE(refuses([](auto& o) { o.dataDate = Date{}; }));
    EXPECT_FALSE(refuses([](auto&) {}));
}

} // namespace
} // namespace milehold::core
