// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/words/chance.h"

#include <gtest/gtest.h>

namespace milehold::ui {
namespace {

const QChar kSpace(0x00a0);

QString plain(QString text) {
    return text.replace(kSpace, QChar(u' '));
}

core::PathQuote fullPath() {
    core::PathQuote path;
    path.strength = core::QuoteStrength::Full;
    path.lives = 38;
    path.comebacks = 4;
    return path;
}

core::QuotePoint pointAt(std::int64_t at, double watched, std::optional<double> chance, double lower,
                         double upper) {
    core::QuotePoint point;
    point.at = at;
    point.watched = watched;
    point.chance = chance;
    point.lower = lower;
    point.upper = upper;
    return point;
}

OfficeGroup group(int lives, int comebacks) {
    OfficeGroup group;
    group.evidence.followed = static_cast<std::size_t>(lives);
    group.evidence.cameBack = static_cast<std::size_t>(comebacks);
    group.curve.miles = {10'000};
    group.atMark = pointAt(60'000, 20, 0.914, 0.838, 0.967);
    return group;
}

TEST(Chance, ShowsTheEstimateOverItsLimits) {
    const core::QuotePoint point = pointAt(24'000, 21, 0.914, 0.838, 0.967);
    const ChanceWords words = chanceAt(point, fullPath());
    EXPECT_EQ(plain(words.figure), QStringLiteral("91 %"));
    EXPECT_EQ(plain(words.under), QStringLiteral("83 to 97 %")) << "0.838 and 0.967, outward";
    EXPECT_FALSE(words.faint);
}

TEST(Chance, NeverShowsANumberForAPathWithTooFewRepairs) {
    core::PathQuote path = fullPath();
    path.strength = core::QuoteStrength::TooFew;
    path.lives = 2;
    path.comebacks = 0;
    const core::QuotePoint point = pointAt(24'000, 2, 1.0, 0.16, 1.0);
    const ChanceWords words = chanceAt(point, path);
    EXPECT_EQ(words.figure, QStringLiteral("too few to say"));
    EXPECT_EQ(words.under, QStringLiteral("2 repairs, none back"));
    EXPECT_TRUE(words.faint);
    path.comebacks = 2;
    EXPECT_EQ(chanceAt(point, path).under, QStringLiteral("2 repairs, all back"))
        << "not the same as knowing nothing";
}

TEST(Chance, SaysNothingBeyondTheLastWatchedDistance) {
    core::QuotePoint point = pointAt(100'000, 0, 0.5, 0.2, 0.9);
    point.beyond = true;
    const ChanceWords words = chanceAt(point, fullPath());
    EXPECT_FALSE(words.figure.contains(QChar(u'5')));
    EXPECT_EQ(words.under, QStringLiteral("not watched so far"));
}

TEST(Chance, SaysOnlyALowerLimitWhenNoneCameBack) {
    core::PathQuote path = fullPath();
    path.strength = core::QuoteStrength::LimitsOnly;
    path.lives = 12;
    path.comebacks = 0;
    core::QuotePoint point = pointAt(24'000, 9, std::nullopt, 0.60, 1.0);
    point.atLeast = 0.669;
    const ChanceWords words = chanceAt(point, path);
    EXPECT_EQ(plain(words.figure), QStringLiteral("66 % or more"));
    EXPECT_EQ(words.under, QStringLiteral("none came back"));
    EXPECT_TRUE(words.faint);
}

TEST(Chance, HidesTheEstimateWhereFewerThanFiveAreWatched) {
    OfficeGroup few = group(38, 4);
    EXPECT_EQ(plain(chanceAtMark(few).figure), QStringLiteral("91 %"));
    few.atMark.few = true;
    few.atMark.watched = 4;
    EXPECT_EQ(plain(chanceAtMark(few).figure), QStringLiteral("83 to 97 %"));
    EXPECT_EQ(chanceAtMark(few).under, QStringLiteral("only 4 watched"));
    EXPECT_TRUE(chanceAtMark(few).faint);
}

TEST(Chance, HidesTheEstimateOfFewerThanFiveRepairs) {
    EXPECT_EQ(chanceAtMark(group(4, 1)).figure, QStringLiteral("too few to say"));
    EXPECT_EQ(chanceAtMark(OfficeGroup()).figure, QStringLiteral("too few to say"));
}

TEST(Chance, NeverCallsAHighChanceCertain) {
    OfficeGroup nearly = group(900, 1);
    nearly.atMark.chance = 0.9989;
    EXPECT_FALSE(chanceAtMark(nearly).figure.contains(QStringLiteral("100")));
}

TEST(Chance, SaysOnlyALowerLimitBeforeTheFirstComeback) {
    core::QuotePoint point = pointAt(12'000, 60, std::nullopt, 0.94, 1.0);
    point.atLeast = 0.951;
    const ChanceWords words = chanceAt(point, fullPath());
    EXPECT_EQ(plain(words.figure), QStringLiteral("95 % or more"));
    EXPECT_EQ(words.under, QStringLiteral("none back by then"));
    // The Office words the same point alike.
    OfficeGroup same = group(38, 4);
    same.atMark = point;
    EXPECT_EQ(chanceAtMark(same).figure, words.figure);
    EXPECT_EQ(chanceAtMark(same).under, words.under);
}

TEST(Chance, NamesAProjectionWhereverItShowsOne) {
    core::QuotePoint point = pointAt(60'000, 0, std::nullopt, 0, 1);
    point.beyond = true;
    point.projected = core::ProjectedChance{0.42, 0.2, 0.61};
    const ChanceWords words = chanceAt(point, fullPath());
    EXPECT_EQ(plain(words.figure), QStringLiteral("42 %"));
    EXPECT_EQ(plain(words.under), QStringLiteral("projection, 20 to 61 %"));
    EXPECT_TRUE(words.faint);
}

TEST(Chance, SaysInWordsThatHalfWereNotReached) {
    OfficeGroup few = group(38, 4);
    few.curve.longestWatched = 83'600;
    EXPECT_EQ(medianWords(few, core::DistanceUnit::Miles).figure, QStringLiteral("not reached"));
    EXPECT_EQ(plain(medianWords(few, core::DistanceUnit::Miles).under), QStringLiteral("by 84,000"));
    few.median.miles = 61'870;
    few.median.lower = 50'800;
    few.counts.miles = {90'000};
    few.counts.comebacks = {0};
    few.counts.left = {4};
    EXPECT_EQ(medianWords(few, core::DistanceUnit::Miles).figure, QStringLiteral("too few to say"))
        << "four are watched there";
    few.counts.left = {5};
    EXPECT_EQ(plain(medianWords(few, core::DistanceUnit::Miles).figure), QStringLiteral("62,000 mi"));
    EXPECT_EQ(plain(medianWords(few, core::DistanceUnit::Miles).under), QStringLiteral("at least 51,000"));
    few.evidence.followed = 3;
    EXPECT_EQ(medianWords(few, core::DistanceUnit::Miles).figure, QStringLiteral("too few to say"));
}

} // namespace
} // namespace milehold::ui
