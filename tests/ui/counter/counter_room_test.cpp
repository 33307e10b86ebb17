// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/support/picture.h"
#include "tests/ui/counter/quote_sample.h"
#include "ui/charts/curve_chart.h"
#include "ui/counter/answer_card.h"
#include "ui/counter/counter_room.h"
#include "ui/counter/option_sheet.h"
#include "ui/widgets/distance_field.h"
#include "ui/widgets/search_box.h"
#include "ui/widgets/segmented.h"
#include "ui/widgets/text.h"

#include <QClipboard>
#include <QGuiApplication>
#include <QLabel>
#include <QPushButton>
#include <QSignalSpy>
#include <QTest>

#include <gtest/gtest.h>

namespace milehold::ui {
namespace {

constexpr QSize kUsual(1136, 700); // what a room has of a window of 1280 x 800

struct ShownRoom {
    tests::QuoteSample sample;
    CounterRoom room;
    std::vector<core::JobId> jobs;
    QString why;

    explicit ShownRoom(tests::QuoteSample told = tests::usualQuote()) : sample(std::move(told)) {
        room.setChoices(sample.choices);
        room.setVehicle(sample.vehicle);
        show(sample.quote());
        room.resize(kUsual);
        room.show();
        QObject::connect(&room, &CounterRoom::jobsWanted, &room,
                         [this](const std::vector<core::JobId>& wanted, const QString& reason) {
                             jobs = wanted;
                             why = reason;
                         });
    }
    void show(core::Quote quote) { room.setQuote(std::make_shared<const core::Quote>(std::move(quote))); }
    OptionSheet& sheet() { return *room.findChild<OptionSheet*>(QStringLiteral("optionSheet")); }
    QString sentence() { return room.findChild<AnswerCard*>()->sentence(); }
    QString spoken() { return room.findChild<QLabel*>(QStringLiteral("sentence"))->text(); }
    QPushButton& button(const char* name) { return *room.findChild<QPushButton*>(QString::fromLatin1(name)); }
};

TEST(CounterRoom, AsksForTheVehicleFirst) {
    CounterRoom room;
    EXPECT_TRUE(tests::keepPictures(room, QStringLiteral("counter-empty"), kUsual));
    EXPECT_FALSE(room.query().has_value());
    EXPECT_EQ(room.chosenPath(), -1);
}

TEST(CounterRoom, ShowsExactlyTheQuoteThatItWasGiven) {
    ShownRoom shown;
    EXPECT_TRUE(tests::keepPictures(shown.room, QStringLiteral("counter-typical"), kUsual));
    EXPECT_TRUE(tests::keepPicture(shown.room, QStringLiteral("counter-typical-1080"), QSize(1776, 980)));
    const core::Quote& quote = *shown.room.quote();
    ASSERT_EQ(quote.paths.size(), 4U);
    const OptionModel& model = shown.sheet().options();
    for (int column = 0; column < 4; ++column) {
        const core::PathQuote& path = quote.paths[static_cast<std::size_t>(column)];
        EXPECT_EQ(model.headerData(column, Qt::Horizontal, Qt::DisplayRole).toString(), toText(path.name));
        for (int row = 0; row < static_cast<int>(path.byYear.size()); ++row) {
            const QString cell = model.index(row, column).data().toString();
            const auto& chance = path.byYear[static_cast<std::size_t>(row)].chance;
            if (chance && *chance < 1) {
                EXPECT_EQ(cell, shareText(*chance));
            }
        }
    }
    EXPECT_EQ(
        shown.sentence(),
        withLocalDates(toText(quote.paths[static_cast<std::size_t>(shown.room.chosenPath())].sentence)));
}

TEST(CounterRoom, HidesEveryChanceOfAPathWithTwoRepairs) {
    ShownRoom shown;
    const core::Quote& quote = *shown.room.quote();
    const OptionModel& model = shown.sheet().options();
    for (int column = 0; column < model.columnCount(); ++column) {
        const core::PathQuote& path = quote.paths[static_cast<std::size_t>(column)];
        if (path.lives >= 5)
            continue;
        for (int row = 0; row < static_cast<int>(path.byYear.size()); ++row) {
            EXPECT_FALSE(model.index(row, column).data().toString().contains(QChar(u'%')))
                << "row " << row << ": " << model.index(row, column).data().toString().toStdString();
        }
    }
}

TEST(CounterRoom, ArrowsChooseThePathThatTheSentenceSpeaksOf) {
    ShownRoom shown;
    shown.sheet().choosePath(0);
    shown.sheet().setFocus();
    QTest::keyClick(&shown.sheet(), Qt::Key_Right);
    EXPECT_EQ(shown.room.chosenPath(), 1);
    EXPECT_EQ(shown.sentence(), withLocalDates(toText(shown.room.quote()->paths[1].sentence)));
    const auto* chart = shown.room.findChild<CurveChart*>(QStringLiteral("quoteCurve"));
    ASSERT_EQ(chart->data().series.size(), 1U);
    EXPECT_EQ(chart->data().series[0].survival, shown.room.quote()->paths[1].curve.survival);
}

TEST(CounterRoom, WhyAndEnterOpenTheJobsBehindTheQuote) {
    ShownRoom shown;
    shown.sheet().choosePath(1);
    QTest::keyClick(&shown.sheet(), Qt::Key_Return);
    EXPECT_EQ(shown.jobs, shown.room.quote()->paths[1].jobs);
    EXPECT_FALSE(shown.jobs.empty());
    shown.jobs.clear();
    QTest::keyClick(&shown.button("why"), Qt::Key_Space);
    EXPECT_EQ(shown.jobs, shown.room.quote()->paths[1].jobs);
}

TEST(CounterRoom, CopiesTheSentence) {
    ShownRoom shown;
    QSignalSpy said(&shown.room, &CounterRoom::said);
    QTest::keyClick(&shown.button("copySentence"), Qt::Key_Space);
    EXPECT_EQ(QGuiApplication::clipboard()->text(), shown.sentence());
    EXPECT_EQ(said.count(), 1);
}

TEST(CounterRoom, KeepsTheChosenPathOverANewQuote) {
    ShownRoom shown;
    shown.sheet().choosePath(2);
    const core::RepairPathId chosen = shown.room.quote()->paths[2].path;
    core::Quote fewer = shown.sample.quote();
    fewer.paths.erase(fewer.paths.begin());
    shown.show(fewer);
    EXPECT_EQ(shown.room.quote()->paths[static_cast<std::size_t>(shown.room.chosenPath())].path, chosen);
}

TEST(CounterRoom, AsksAgainWhenTheYearlyMilesAreChanged) {
    ShownRoom shown;
    QSignalSpy asked(&shown.room, &CounterRoom::quoteWanted);
    auto* yearly = shown.room.findChild<DistanceField*>(QStringLiteral("quoteYearly"));
    yearly->setFocus();
    yearly->selectAll();
    QTest::keyClicks(yearly, QStringLiteral("20000"));
    EXPECT_GT(asked.count(), 0);
    ASSERT_TRUE(shown.room.query().has_value());
    EXPECT_EQ(shown.room.query()->subject.yearly.perYear, core::Distance::miles(20'000));
    EXPECT_EQ(shown.room.query()->subject.yearly.source, core::YearlySource::Told);
}

TEST(CounterRoom, LeavesTheVehicleAsItWasWhenNothingIsEdited) {
    ShownRoom shown;
    EXPECT_EQ(shown.room.vehicle(), shown.sample.vehicle);
}

TEST(CounterRoom, SpeaksOfTheDistanceThatTheCursorIsOn) {
    ShownRoom shown;
    QSignalSpy asked(&shown.room, &CounterRoom::quoteWanted);
    EXPECT_EQ(shown.sheet().currentIndex().row(), 1) << "two years, until something else is chosen";
    shown.sheet().setFocus();
    QTest::keyClick(&shown.sheet(), Qt::Key_Down);
    ASSERT_EQ(asked.count(), 1);
    EXPECT_EQ(shown.room.query()->horizon, shown.room.quote()->paths[0].byYear[2].at);
    const int column = shown.room.chosenPath();
    shown.show(shown.sample.quote(shown.room.query()->horizon));
    EXPECT_EQ(asked.count(), 1) << "a new answer asks for nothing";
    EXPECT_EQ(shown.sheet().currentIndex(), shown.sheet().model()->index(2, column));
}

TEST(CounterRoom, ShowsTheConditionalFormOnlyForThisVehiclesOwnRepair) {
    tests::QuoteSample sample = tests::usualQuote();
    ShownRoom without(sample);
    const auto* rows = without.room.findChild<Segmented*>(QStringLiteral("rows"));
    EXPECT_EQ(rows->findChildren<QAbstractButton*>().size(), 3);

    core::LifeRecord own = sample.lives.back();
    for (const core::LifeRecord& candidate : sample.lives) {
        if (candidate.life.path == sample.shelf.paths[1].id && !candidate.life.cameBack())
            own = candidate;
    }
    own.life.known = core::Distance::miles(18'000);
    sample.vehicle.running = own;
    ShownRoom shown(sample);
    auto* choice = shown.room.findChild<Segmented*>(QStringLiteral("rows"));
    ASSERT_EQ(choice->findChildren<QAbstractButton*>().size(), 4);
    choice->button(3)->click();
    EXPECT_TRUE(tests::keepPicture(shown.room, QStringLiteral("counter-own-repair"), kUsual));
    const OptionModel& model = shown.sheet().options();
    EXPECT_EQ(model.rows(), OptionModel::Rows::FromHere);
    for (int column = 0; column < model.columnCount(); ++column) {
        const bool own_path = model.path(column).path == sample.shelf.paths[1].id;
        EXPECT_EQ(model.index(0, column).data().toString() != QStringLiteral("\u2013"), own_path);
    }
}

TEST(CounterRoom, ShowsWhatAFigureRestsOnAndItsEvidence) {
    ShownRoom shown;
    const core::PathQuote& path =
        shown.room.quote()->paths[static_cast<std::size_t>(shown.room.chosenPath())];
    EXPECT_EQ(shown.room.findChild<QLabel*>(QStringLiteral("quoteEvidence"))->text(),
              toText(core::evidenceLine(path.evidenceFacts)));
    shown.room.findChild<Segmented*>(QStringLiteral("rows"))->button(2)->click();
    EXPECT_TRUE(tests::keepPicture(shown.room, QStringLiteral("counter-basis"), kUsual));
    const OptionModel& model = shown.sheet().options();
    EXPECT_EQ(model.rows(), OptionModel::Rows::Basis);
    EXPECT_EQ(model.rowCount(), 8);
    EXPECT_EQ(model.horizonRow(), -1);
    const int column = shown.room.chosenPath();
    ASSERT_TRUE(path.evidence);
    EXPECT_TRUE(model.index(1, column).data().toString().startsWith(shareText(*path.evidence)));
}

TEST(CounterRoom, AsksForAProjectionOnlyWhenTheBoxIsTicked) {
    ShownRoom shown;
    EXPECT_FALSE(shown.room.query()->project);
    QSignalSpy asked(&shown.room, &CounterRoom::quoteWanted);
    shown.room.findChild<QAbstractButton*>(QStringLiteral("project"))->click();
    EXPECT_EQ(asked.count(), 1);
    EXPECT_TRUE(shown.room.query()->project);
    for (const CurveSeries& series : shown.room.findChild<CurveChart*>()->data().series)
        EXPECT_FALSE(series.projection) << "nothing is projected that the quote does not hold";
    core::Quote quote = shown.sample.quote();
    quote.options.project = true;
    auto& path = quote.paths[static_cast<std::size_t>(shown.room.chosenPath())];
    core::QuoteProjection on;
    on.from = 40'000;
    on.to = 80'000;
    on.miles = {40'000, 80'000};
    on.survival = {0.7, 0.4};
    on.lower = {0.5, 0.2};
    on.upper = {0.9, 0.7};
    path.projection = on;
    shown.show(std::move(quote));
    const CurveData& curves = shown.room.findChild<CurveChart*>()->data();
    ASSERT_EQ(curves.series.size(), 1U);
    ASSERT_TRUE(curves.series[0].projection);
    EXPECT_EQ(curves.series[0].projection->survival, on.survival);
    EXPECT_TRUE(tests::keepPicture(shown.room, QStringLiteral("counter-projected"), kUsual));
}

TEST(CounterRoom, HoldsManyPathsWithLongWords) {
    ShownRoom shown(tests::hugeQuote());
    EXPECT_TRUE(tests::keepPictures(shown.room, QStringLiteral("counter-huge"), kUsual));
    EXPECT_LE(shown.room.minimumSizeHint().width(), kUsual.width());
}

TEST(CounterRoom, DrawsNothingOverAnythingElseOnALowScreen) {
    for (const QSize& size : {kUsual, QSize(1136, 660), QSize(860, 520)}) {
        ShownRoom shown(tests::hugeQuote());
        shown.room.resize(size);
        QTest::qWait(50);
        const auto* evidence = shown.room.findChild<QLabel*>(QStringLiteral("quoteEvidence"));
        const QWidget* parts[] = {shown.room.findChild<AnswerCard*>(), &shown.sheet(),
                                  shown.room.findChild<CurveChart*>(), evidence};
        ASSERT_TRUE(evidence->isVisible());
        for (int i = 1; i < 4; ++i)
            EXPECT_GE(parts[i]->geometry().top(), parts[i - 1]->geometry().bottom())
                << "part " << i << " at " << size.width() << " by " << size.height();
        EXPECT_GE(evidence->height(), evidence->heightForWidth(evidence->width())) << "no line is cut off";
    }
}

TEST(CounterRoom, FindsAVehicleByKeysAlone) {
    CounterRoom room;
    room.resize(kUsual);
    room.show();
    auto* search = room.findChild<SearchBox*>(QStringLiteral("findVehicle"));
    QStringList asked;
    QObject::connect(&room, &CounterRoom::searchWanted, &room, [&](const QString& text) { asked << text; });
    std::optional<core::VehicleId> wanted;
    QObject::connect(&room, &CounterRoom::vehicleWanted, &room, [&](core::VehicleId id) { wanted = id; });
    search->setFocus();
    QTest::keyClicks(search, QStringLiteral("klm"));
    EXPECT_TRUE(QTest::qWaitFor([&] { return !asked.isEmpty(); }, 2000));
    const VehicleFound found = *tests::usualQuote().vehicle.vehicle;
    room.setFound(asked.last(), {found});
    QTest::keyClick(search, Qt::Key_Return);
    ASSERT_TRUE(wanted.has_value());
    EXPECT_EQ(*wanted, found.id);
}

} // namespace
} // namespace milehold::ui
