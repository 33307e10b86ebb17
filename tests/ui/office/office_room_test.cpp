// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/support/picture.h"
#include "tests/ui/office/office_sample.h"
#include "ui/charts/curve_chart.h"
#include "ui/office/group_table.h"
#include "ui/office/office_room.h"
#include "ui/office/review_words.h"
#include "ui/widgets/text.h"

#include <QComboBox>
#include <QHeaderView>
#include <QLabel>
#include <QPushButton>
#include <QScrollBar>
#include <QSignalSpy>
#include <QSpinBox>
#include <QTest>

#include <gtest/gtest.h>

#include <algorithm>

namespace milehold::ui {
namespace {

constexpr QSize kUsual(1136, 700); // what a room has of a window of 1280 x 800

OfficeView typical() {
    OfficeView view = tests::officeView({tests::story("Phasers with the chain set", 96, 0.10, 110'000, 3),
                                         tests::story("Phasers alone", 74, 0.34, 105'000, 5),
                                         tests::story("Calibration only", 41, 0.62, 70'000, 8),
                                         tests::story("Oil control valves", 22, 0.45, 60'000, 13),
                                         tests::story("One phaser", 3, 0.4, 30'000, 21)});
    for (OfficeGroup& group : view.groups)
        group.evidence.lostSight = group.evidence.lives / 9;
    view.all.evidence.lostSight = 21;
    view.all.evidence.noContact = 14;
    view.all.evidence.sold = 5;
    view.all.evidence.doNotCall = 2;
    OfficeComparison two;
    two.first = view.groups[0].name;
    two.second = view.groups[1].name;
    two.difference = 0.17;
    two.lower = 0.03;
    two.upper = 0.31;
    two.p = 0.0042;
    view.comparison = two;
    return view;
}

std::shared_ptr<const OfficeView> shared(OfficeView view) {
    return std::make_shared<const OfficeView>(std::move(view));
}

struct JobsAsked {
    std::vector<core::JobId> jobs;
    QString why;
    int times = 0;
};

/// A room of the usual size on screen, with what it asked for.
struct ShownRoom {
    OfficeRoom room;
    JobsAsked asked;

    explicit ShownRoom(OfficeView view = typical()) {
        room.setView(shared(std::move(view)));
        room.resize(kUsual);
        room.show();
        QObject::connect(&room, &OfficeRoom::jobsWanted, &room,
                         [this](const std::vector<core::JobId>& jobs, const QString& why) {
                             asked = {jobs, why, asked.times + 1};
                         });
    }
    GroupTable& table() { return *room.findChild<GroupTable*>(QStringLiteral("groupTable")); }
    CurveChart& chart() { return *room.findChild<CurveChart*>(QStringLiteral("curves")); }
    const OfficeGroup& group(std::size_t i) const { return room.view()->groups[i]; }
};

TEST(OfficeRoom, SaysWhatToDoFirstWhileThereIsNoRepair) {
    OfficeView none;
    none.problem = "no finished repair yet";
    ShownRoom shown(none);
    EXPECT_TRUE(tests::keepPictures(shown.room, QStringLiteral("office-empty"), kUsual));
    QSignalSpy log(&shown.room, &OfficeRoom::logJobWanted);
    const auto buttons = shown.room.findChildren<QPushButton*>();
    const auto first = std::find_if(buttons.begin(), buttons.end(), [](QPushButton* button) {
        return button->isVisible() && button->text().contains(QStringLiteral("Log"));
    });
    ASSERT_NE(first, buttons.end());
    QTest::keyClick(*first, Qt::Key_Space);
    EXPECT_EQ(log.count(), 1);
}

TEST(OfficeRoom, ShowsExactlyTheFiguresThatItWasGiven) {
    ShownRoom shown;
    EXPECT_TRUE(tests::keepPictures(shown.room, QStringLiteral("office-typical"), kUsual));
    EXPECT_TRUE(tests::keepPicture(shown.room, QStringLiteral("office-typical-1080"), QSize(1776, 980)));
    const GroupModel& model = shown.table().groups();
    ASSERT_EQ(model.rowCount(), 5);
    for (int row = 0; row < model.rowCount(); ++row) {
        const OfficeGroup& group = shown.group(static_cast<std::size_t>(row));
        EXPECT_EQ(model.index(row, GroupModel::CameBack).data().toString(), countText(group.comebacks()));
        EXPECT_EQ(model.index(row, GroupModel::CameBack).data(GroupModel::UnderRole).toString(),
                  QStringLiteral("of %1").arg(group.lives()));
    }
    ASSERT_EQ(shown.chart().data().series.size(), 5U);
    for (std::size_t i = 0; i < 5; ++i) {
        EXPECT_EQ(shown.chart().data().series[i].survival, shown.group(i).curve.survival);
        EXPECT_EQ(shown.chart().data().series[i].miles, shown.group(i).curve.miles);
        EXPECT_EQ(shown.chart().data().series[i].lower, shown.group(i).curve.lower);
    }
}

TEST(OfficeRoom, EveryFigureOpensItsJobsByKeys) {
    ShownRoom shown;
    shown.table().setCurrentIndex(shown.table().model()->index(0, GroupModel::CameBack));
    QTest::keyClick(&shown.table(), Qt::Key_Return);
    EXPECT_EQ(shown.asked.times, 1);
    EXPECT_EQ(shown.asked.jobs.size(), static_cast<std::size_t>(shown.group(0).comebacks()));
    QTest::keyClick(&shown.table(), Qt::Key_Left);
    QTest::keyClick(&shown.table(), Qt::Key_Enter);
    EXPECT_EQ(shown.asked.jobs.size(), static_cast<std::size_t>(shown.group(0).lives()));
    EXPECT_TRUE(shown.asked.why.contains(QStringLiteral("Phasers with the chain set")));
}

TEST(OfficeRoom, AClickOnAFigureOpensItsJobs) {
    ShownRoom shown;
    const QRect cell = shown.table().visualRect(shown.table().model()->index(1, GroupModel::CameBack));
    QTest::mouseClick(shown.table().viewport(), Qt::LeftButton, {}, cell.center());
    EXPECT_EQ(shown.asked.times, 1);
    EXPECT_EQ(shown.asked.jobs.size(), static_cast<std::size_t>(shown.group(1).comebacks()));
}

TEST(OfficeRoom, AClickOnAStepOpensTheJobThatCameBackThere) {
    tests::GroupStory told{"Phasers alone", {12'000, 30'000}, {8'000, 20'000, 41'000, 50'000, 61'000}, 0};
    ShownRoom shown(tests::officeView({told}));
    emit shown.chart().seriesClicked(QStringLiteral("Phasers alone"), 30'000);
    ASSERT_EQ(shown.asked.jobs.size(), 1U);
    EXPECT_EQ(shown.asked.jobs[0], tests::jobId(2));
    EXPECT_TRUE(shown.asked.why.contains(QStringLiteral("came back at")));
    emit shown.chart().seriesClicked(QStringLiteral("Phasers alone"), 45'000);
    EXPECT_EQ(shown.asked.jobs.size(), 2U) << "those still watched at 45,000";
}

TEST(OfficeRoom, AClickInTheChartItselfOpensJobs) {
    ShownRoom shown;
    const core::Curve& curve = shown.group(1).curve;
    const std::size_t step = curve.size() / 2;
    const QPointF at = shown.chart().pixelOf(curve.miles[step], curve.survival[step]);
    QTest::mouseMove(&shown.chart(), at.toPoint());
    QTest::mouseClick(&shown.chart(), Qt::LeftButton, {}, at.toPoint());
    EXPECT_EQ(shown.asked.times, 1);
    EXPECT_FALSE(shown.asked.jobs.empty());
}

TEST(OfficeRoom, SpaceTakesACurveOffTheChart) {
    ShownRoom shown;
    shown.table().setCurrentIndex(shown.table().model()->index(2, GroupModel::Name));
    QTest::keyClick(&shown.table(), Qt::Key_Space);
    ASSERT_EQ(shown.chart().data().series.size(), 4U);
    EXPECT_EQ(shown.chart().data().series[2].id, QStringLiteral("Oil control valves"));
    EXPECT_EQ(shown.chart().data().series[2].look, 3) << "the others keep their lines";
    QTest::keyClick(&shown.table(), Qt::Key_Space);
    EXPECT_EQ(shown.chart().data().series.size(), 5U);
}

TEST(OfficeRoom, KeepsWhatWasChosenOverANewAnswer) {
    ShownRoom shown;
    shown.table().setCurrentIndex(shown.table().model()->index(1, GroupModel::Name));
    QTest::keyClick(&shown.table(), Qt::Key_Space);
    shown.room.setView(shared(typical()));
    EXPECT_EQ(shown.table().groups().shownRows(), (std::vector{0, 2, 3, 4}));
    EXPECT_EQ(shown.table().currentIndex().row(), 1);
}

TEST(OfficeRoom, AsksForWhatTheFieldsSay) {
    ShownRoom shown;
    OfficeChoices choices;
    choices.families = {{core::EngineFamilyId{tests::jobId(71).uuid}, "Larch 2.4"}};
    choices.today = core::Date(std::chrono::year(2031), std::chrono::month(4), std::chrono::day(9));
    shown.room.setChoices(choices);
    std::vector<OfficeQuery> asked;
    QObject::connect(&shown.room, &OfficeRoom::queryChanged, &shown.room,
                     [&](const OfficeQuery& query) { asked.push_back(query); });
    shown.room.findChild<QComboBox*>(QStringLiteral("family"))->setCurrentIndex(1);
    ASSERT_EQ(asked.size(), 1U);
    EXPECT_EQ(asked.back().family, choices.families[0].first);
    shown.room.findChild<QSpinBox*>(QStringLiteral("mark"))->setValue(45'000);
    EXPECT_EQ(asked.back().mark, 45'000);
    EXPECT_EQ(asked.back().family, choices.families[0].first);
    shown.room.findChild<QComboBox*>(QStringLiteral("period"))->setCurrentIndex(1);
    EXPECT_EQ(asked.back().from,
              core::Date(std::chrono::year(2030), std::chrono::month(4), std::chrono::day(9)));
    QTest::mouseClick(shown.room.findChild<QPushButton*>(QStringLiteral("clearFilters")), Qt::LeftButton);
    EXPECT_FALSE(asked.back().filters());
    EXPECT_EQ(asked.back().mark, 45'000);
}

TEST(OfficeRoom, HoldsManyGroupsWithLongNames) {
    std::vector<tests::GroupStory> stories;
    for (unsigned i = 28; i > 0; --i) {
        stories.push_back(
            tests::story("Phaser set with intermediate guide rails and both tensioners, revision " +
                             std::to_string(i) + ", supplied by the second source",
                         static_cast<int>(3 + i * 17), 0.05 + 0.02 * i, 140'000, i + 40));
    }
    ShownRoom shown(tests::officeView(stories));
    EXPECT_TRUE(tests::keepPictures(shown.room, QStringLiteral("office-huge"), kUsual));
    EXPECT_EQ(shown.table().groups().shownRows().size(), static_cast<std::size_t>(GroupModel::kMostShown));
    // With more groups than have room the scroll bar is there, and cuts no figure.
    GroupTable& table = shown.table();
    ASSERT_TRUE(table.verticalScrollBar()->isVisible());
    EXPECT_TRUE(QTest::qWaitFor([&] {
        return table.horizontalHeader()->length() <= table.viewport()->width();
    })) << table.horizontalHeader()->length()
        << " in " << table.viewport()->width();
    EXPECT_LE(shown.room.minimumSizeHint().width(), kUsual.width());
    EXPECT_LE(shown.room.minimumSizeHint().height(), kUsual.height());
}

TEST(OfficeRoom, SavesWhatItShows) {
    ShownRoom shown;
    const QByteArray table = shown.room.exported(OfficeRoom::Export::GroupsCsv);
    EXPECT_EQ(table.count("\r\n"), 6);
    EXPECT_TRUE(table.contains("Phasers with the chain set,96,"));
    EXPECT_TRUE(shown.room.exported(OfficeRoom::Export::StepsCsv)
                    .startsWith("group,mi,watched,came_back,left,quiet"));
    EXPECT_TRUE(shown.room.exported(OfficeRoom::Export::ChartPng).startsWith("\x89PNG"));
    EXPECT_TRUE(shown.room.exported(OfficeRoom::Export::ChartPdf).startsWith("%PDF"));
}

TEST(ReviewWords, GiveNoPWhenComebacksAreTooFew) {
    OfficeView view = typical();
    EXPECT_TRUE(comparisonWords(view).contains(QStringLiteral("p = 0.004")));
    view.comparison->tooFew = true;
    const QString words = comparisonWords(view);
    EXPECT_FALSE(words.contains(QStringLiteral("p =")));
    EXPECT_TRUE(words.contains(QStringLiteral("Too few comebacks")));
}

} // namespace
} // namespace milehold::ui
