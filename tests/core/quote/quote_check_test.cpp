// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/quote/path_evidence.h"
#include "core/quote/quote_check.h"
#include "tests/core/support/records.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace milehold::core {
namespace {

using namespace testing_support;

template <class T> T numbered(std::uint32_t number) {
    T id;
    id.uuid.bytes[15] = static_cast<std::uint8_t>(number);
    id.uuid.bytes[14] = static_cast<std::uint8_t>(number >> 8);
    id.uuid.bytes[13] = static_cast<std::uint8_t>(number >> 16);
    id.uuid.bytes[0] = 1;
    return id;
}

/// Quotes given for repairs, one vehicle each.
struct Book {
    std::vector<GivenQuote> quotes;
    std::vector<LifeRecord> lives;

    void add(double chance, std::int64_t horizon, std::int64_t known, bool cameBack) {
        const auto number = static_cast<std::uint32_t>(quotes.size() + 1);
        GivenQuote quote;
        quote.vehicle = numbered<VehicleId>(number);
        quote.path = key<RepairPathId>(1);
        quote.date = day("2031-04-01");
        quote.horizon = miles(horizon);
        quote.chance = toMillionths(chance);
        quote.sentence = "told";
        quotes.push_back(quote);
        LifeRecord record;
        record.life.job = numbered<JobId>(number);
        record.life.vehicle = quote.vehicle;
        record.life.path = quote.path;
        record.life.repairedOn = day("2031-04-09");
        record.life.known = miles(known);
        record.life.state = cameBack ? LifeState::CameBack : LifeState::Holding;
        lives.push_back(record);
    }
};

// Ten quotes of 85 %, each with a distance of its own; two came back before it, the others ran past it:
// 8 of 10, limits 44.4 % and 97.5 % (Clopper & Pearson 1934, any binomial table).
TEST(QuoteCheck, ReadsEachLifeInMultiplesOfTheDistanceThatWasQuoted) {
    Book book;
    for (int i = 0; i < 10; ++i) {
        const std::int64_t horizon = 10'000 + 3'000 * i;
        book.add(0.85, horizon, i < 2 ? horizon / 2 : horizon + 500, i < 2);
    }
    const auto check = checkQuotes(book.quotes, book.lives);
    ASSERT_TRUE(check);
    ASSERT_EQ(check->bins.size(), 1U);
    const QuoteBin& bin = check->bins[0];
    EXPECT_EQ(bin.from, 0.8);
    EXPECT_EQ(bin.quotes, 10);
    EXPECT_EQ(bin.comebacks, 2);
    EXPECT_NEAR(bin.quoted, 0.85, 1e-6);
    EXPECT_NEAR(bin.observed.value(), 0.8, 1e-12);
    EXPECT_NEAR(bin.lower.value(), 0.4439, 5e-5);
    EXPECT_NEAR(bin.upper.value(), 0.9748, 5e-5);
    EXPECT_EQ(bin.held(), std::optional(true));
    EXPECT_EQ(bin.jobs.size(), 10U);
}

TEST(QuoteCheck, FindsTheRepairThatAQuoteWasAbout) {
    Book book;
    book.add(0.9, 20'000, 30'000, false);
    GivenQuote quote = book.quotes[0];
    EXPECT_EQ(lifeOf(quote, book.lives), &book.lives[0]);
    quote.date = day("2031-04-10"); // after the repair
    EXPECT_EQ(lifeOf(quote, book.lives), nullptr);
    quote.date = day("2030-10-10"); // 181 days before
    EXPECT_EQ(lifeOf(quote, book.lives), nullptr);
    quote.job = book.lives[0].life.job; // named, it needs no dates
    EXPECT_EQ(lifeOf(quote, book.lives), &book.lives[0]);
    quote.path = key<RepairPathId>(2); // another path was taken after all
    EXPECT_EQ(lifeOf(quote, book.lives), nullptr);
}

TEST(QuoteCheck, CountsTheLastQuoteBeforeARepairAndSaysWhatItPassesOver) {
    Book book;
    for (int i = 0; i < 6; ++i)
        book.add(0.75, 20'000, 30'000, false);
    GivenQuote again = book.quotes[0];
    again.date = day("2031-04-05");
    again.chance = toMillionths(0.95);
    book.quotes.push_back(again);
    book.quotes[1].chance = std::nullopt;
    book.quotes[2].date = day("2032-01-01"); // its repair is still to come
    const auto check = checkQuotes(book.quotes, book.lives);
    ASSERT_TRUE(check);
    EXPECT_EQ(check->given, 7);
    EXPECT_EQ(check->repeated, 1);
    EXPECT_EQ(check->noEstimate, 1);
    EXPECT_EQ(check->waiting, 1);
    ASSERT_EQ(check->bins.size(), 2U);
    EXPECT_EQ(check->bins[0].quotes, 3);
    EXPECT_EQ(check->bins[1].quotes, 1);
    EXPECT_FALSE(check->bins[1].observed) << "one repair says nothing";
    EXPECT_EQ(check->bins[1].held(), std::nullopt);
}

TEST(QuoteCheck, ShowsNothingOfRepairsThatWereNotWatchedToTheDistanceQuoted) {
    Book book;
    for (int i = 0; i < 12; ++i)
        book.add(0.85, 20'000, 9'000, false);
    const auto check = checkQuotes(book.quotes, book.lives);
    ASSERT_TRUE(check);
    EXPECT_FALSE(check->bins[0].observed);
    EXPECT_FALSE(check->bins[0].lower);
}

// Limits only were told. 8 of 10 ran past their distance: seen 44.4 % to 97.5 % (Clopper & Pearson 1934), so
// "at least 40 %" and "at least 90 %" agree with it, "at least 99 %" does not.
TEST(QuoteCheck, SetsALowerLimitAgainstWhatWasSeenWhereNoChanceWasTold) {
    for (const auto& [told, isRight] : {std::pair{0.4, true}, std::pair{0.9, true}, std::pair{0.99, false}}) {
        Book book;
        for (int i = 0; i < 10; ++i) {
            book.add(0.5, 20'000, i < 2 ? 9'000 : 21'000, i < 2);
            book.quotes.back().chance = std::nullopt;
            if (i % 2 == 0)
                book.quotes.back().lower = toMillionths(told);
            else
                book.quotes.back().atLeast = toMillionths(told);
        }
        const auto check = checkQuotes(book.quotes, book.lives);
        ASSERT_TRUE(check);
        EXPECT_EQ(check->noEstimate, 10);
        EXPECT_FALSE(check->all);
        ASSERT_TRUE(check->limits);
        EXPECT_NEAR(check->limits->quoted, told, 1e-6);
        EXPECT_NEAR(check->limits->lower.value(), 0.4439, 5e-5);
        EXPECT_NEAR(check->limits->upper.value(), 0.9748, 5e-5);
        EXPECT_EQ(check->limits->held(), std::optional(isRight)) << told;
    }
}

// By hand: told 85 % (70 to 93 %), seen 60 % (45 to 73 %). The difference of -25 points reaches up by
// sqrt(13^2 + 15^2) = 19.8: off. Seen 66 % (51 to 79 %): -19 points and sqrt(13^2 + 15^2): no more than
// chance.
TEST(QuoteCheck, CountsThatWhatWasToldIsAnEstimateToo) {
    QuoteBin bin;
    bin.quoted = 0.85;
    bin.toldLower = 0.7;
    bin.toldUpper = 0.93;
    bin.observed = 0.6;
    bin.lower = 0.45;
    bin.upper = 0.73;
    EXPECT_EQ(bin.held(), std::optional(false));
    bin.observed = 0.66;
    bin.lower = 0.51;
    bin.upper = 0.79;
    EXPECT_EQ(bin.held(), std::optional(true));
    bin.toldLower = bin.toldUpper = std::nullopt;
    EXPECT_EQ(bin.held(), std::optional(false)) << "taken for known it lies outside the limits seen";
    bin.observed = std::nullopt;
    bin.toldLower = 0.78;
    bin.toldUpper = 0.93;
    EXPECT_EQ(bin.held(), std::optional(true)) << "too few for an estimate: the limits overlap";
}

// Known truth: a path of which 4 in 5 are quiet at the distance. Each shop quotes what 20 repairs told it,
// with their exact limits, for 40 repairs more. What is told is honest in every shop, so at most one in
// twenty may be called off (and two standard errors of 400 shops); without counting that it is an estimate,
// far more are.
TEST(QuoteCheck, CallsHonestQuotesFromFewRepairsOffNoOftenerThanStated) {
    std::mt19937_64 random(20080501);
    std::uniform_real_distribution<double> share(0, 1);
    constexpr double kTruth = 0.8;
    constexpr std::int64_t kHorizon = 30'000;
    const auto lived = [&] { return -std::log(1 - share(random)) / -std::log(kTruth) * kHorizon; };
    int shops = 0, off = 0, offIfKnown = 0;
    while (shops < 400) {
        Lives evidence;
        for (int i = 0; i < 20; ++i) {
            const double life = lived(), watched = (share(random) < 0.3 ? share(random) : 1.5) * kHorizon;
            evidence.miles.push_back(std::min(life, watched));
            evidence.end.push_back(life <= watched ? kCameBack : kHolding);
        }
        const auto point = WatchedSet::of(countsOfAll(evidence), 0.95).value().pointAt(kHorizon);
        if (!point.chance)
            continue;
        ++shops;
        Book book;
        for (int i = 0; i < 40; ++i) {
            const double life = lived(), watched = (share(random) < 0.3 ? share(random) : 1.5) * kHorizon;
            book.add(*point.chance, kHorizon,
                     std::max<std::int64_t>(1, std::llround(std::min(life, watched))), life <= watched);
            book.quotes.back().lower = toMillionths(point.lower.value());
            book.quotes.back().upper = toMillionths(point.upper.value());
        }
        QuoteBin all = checkQuotes(book.quotes, book.lives).value().all.value();
        off += !all.held().value();
        all.toldLower = all.toldUpper = std::nullopt;
        offIfKnown += !all.held().value();
    }
    EXPECT_LE(off, 0.05 * shops + 2 * std::sqrt(0.05 * 0.95 * shops)) << off << " of " << shops;
    EXPECT_GE(offIfKnown, 0.1 * shops) << offIfKnown << " of " << shops;
}

TEST(QuoteCheck, RefusesALevelThatIsNone) {
    EXPECT_EQ(checkQuotes({}, {}, 1).error().code, ErrorCode::InvalidInput);
    EXPECT_TRUE(checkQuotes({}, {}).value().bins.empty());
}

/// A shop that quotes `said` where the truth is `truth`: exponential lives, 4 in 10 left before.
Book simulated(std::mt19937_64& random, double tooHigh) {
    std::uniform_real_distribution<double> share(0, 1);
    Book book;
    for (int i = 0; i < 200; ++i) {
        const double truth = 0.5 + 0.35 * share(random);
        const auto horizon = static_cast<std::int64_t>(10'000 + 40'000 * share(random));
        const double life = -std::log(1 - share(random)) / -std::log(truth) * static_cast<double>(horizon);
        const double watched = (share(random) < 0.4 ? share(random) : 1.5) * static_cast<double>(horizon);
        book.add(std::min(0.99, truth + tooHigh), horizon,
                 std::max<std::int64_t>(1, std::llround(std::min(life, watched))), life <= watched);
    }
    return book;
}

// Known truth: quotes that are right lie within the exact 95 % limits of what is seen in at least 95 of 100
// ranges, less two standard errors (1.6 points of some 700 ranges); those 12 points too high are found out in
// most ranges of 25 quotes and more.
TEST(QuoteCheck, HoldsRightQuotesAndFindsOutWrongOnesInSimulatedShops) {
    std::mt19937_64 random(19580701);
    int held = 0;
    int ranges = 0;
    int wrongFound = 0;
    int wrongRanges = 0;
    for (int shop = 0; shop < 200; ++shop) {
        for (const double tooHigh : {0.0, 0.12}) {
            const Book book = simulated(random, tooHigh);
            const auto check = checkQuotes(book.quotes, book.lives);
            ASSERT_TRUE(check);
            if (tooHigh > 0) {
                ++wrongRanges;
                wrongFound += !check->all->held().value();
                continue;
            }
            for (const QuoteBin& bin : check->bins) {
                if (!bin.held())
                    continue;
                ++ranges;
                held += *bin.held();
            }
        }
    }
    ASSERT_GT(ranges, 500);
    EXPECT_GE(held, 0.934 * ranges) << held << " of " << ranges;
    EXPECT_GE(wrongFound, 0.8 * wrongRanges) << wrongFound << " of " << wrongRanges;
}

} // namespace
} // namespace milehold::core
