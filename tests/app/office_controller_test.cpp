// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/office_controller.h"
#include "app/desktop/office_review.h"
#include "storage/claim_store.h"
#include "storage/shop.h"
#include "tests/app/sample_desk.h"
#include "tests/support/picture.h"
#include "ui/office/report_page.h"
#include "ui/office/review_words.h"
#include "ui/widgets/segmented.h"

#include <QAbstractButton>
#include <QComboBox>
#include <QFile>
#include <QTemporaryDir>
#include <QTest>

#include <gtest/gtest.h>

#include <algorithm>
#include <map>

namespace milehold::app {
namespace {

class OfficeControllerTest : public tests::SampleDesk {
protected:
    void SetUp() override {
        SampleDesk::SetUp();
        controller = std::make_unique<OfficeController>(room, database(), session());
        ASSERT_TRUE(waitFor([&] { return room.view() != nullptr; }));
    }

    ui::OfficeRoom room;
    std::unique_ptr<OfficeController> controller;
};

TEST_F(OfficeControllerTest, ShowsEveryLifeOfTheShopOnce) {
    ASSERT_TRUE(room.view()->problem.empty());
    int lives = 0;
    int comebacks = 0;
    for (const ui::OfficeGroup& group : room.view()->groups) {
        lives += group.lives();
        comebacks += group.comebacks();
        EXPECT_EQ(group.jobs.size(), group.evidence.contributing);
    }
    int followed = 0;
    int back = 0;
    for (const core::LifeRecord& record : *session().lives()) {
        if (!record.life.contributes)
            continue;
        followed += record.life.isFollowed() ? 1 : 0;
        back += record.life.cameBack() ? 1 : 0;
    }
    EXPECT_EQ(lives, followed);
    EXPECT_EQ(comebacks, back);
    EXPECT_EQ(room.view()->all.lives(), followed);
    EXPECT_TRUE(tests::keepPictures(room, QStringLiteral("office-sample"), QSize(1136, 700)));
}

TEST_F(OfficeControllerTest, FillsThePageOfEveryTopicFromTheRecords) {
    const auto names = ui::ownerTopicNames();
    for (int i = 1; i < names.size(); ++i) {
        const auto topic = static_cast<ui::OwnerTopic>(i);
        room.showTopic(topic);
        ASSERT_TRUE(waitFor([&] { return !room.page(topic).lead.isEmpty(); })) << names[i].toStdString();
        // The sample's quotes may all be younger than the distance that they speak of.
        if (topic != ui::OwnerTopic::Report && topic != ui::OwnerTopic::Quotes) {
            EXPECT_FALSE(room.page(topic).figures.empty())
                << names[i].toStdString() << ": " << room.page(topic).lead.toStdString();
        }
        for (const ui::OwnerFigure& figure : room.page(topic).figures)
            for (const auto& [id, behind] : figure.jobs)
                for (const core::JobId job : behind.jobs)
                    EXPECT_TRUE(
                        ask([job](storage::Shop& shop) { return shop.jobs().find(job); }).has_value());
        EXPECT_TRUE(tests::keepPicture(room, QStringLiteral("office-topic-%1").arg(i), QSize(1136, 700)));
    }
}

TEST_F(OfficeControllerTest, TheNewestQuestionWins) {
    ui::OfficeQuery query = room.query();
    for (const char* facet : {"technician", "engine", "calibration", "model-years", "path"}) {
        if (!core::facetById(facet))
            continue;
        query.facet = facet;
        room.setQuery(query);
        emit room.queryChanged(query);
    }
    const std::string last = query.facet;
    ASSERT_TRUE(waitFor([&] { return room.view()->query.facet == last && room.view()->groups.size() > 1; }));
    QTest::qWait(50);
    EXPECT_EQ(room.view()->query.facet, last);
}

TEST_F(OfficeControllerTest, AFilterKeepsOnlyWhatPassesIt) {
    ui::OfficeQuery query = room.query();
    query.path = session().shelf()->paths.front().id;
    room.setQuery(query);
    emit room.queryChanged(query);
    ASSERT_TRUE(waitFor([&] { return room.view()->query == query; }));
    std::size_t expected = 0;
    for (const core::LifeRecord& record : *session().lives()) {
        expected += record.life.isFollowed() && record.life.path == query.path ? 1 : 0;
    }
    EXPECT_EQ(static_cast<std::size_t>(room.view()->all.lives()), expected);
}

TEST_F(OfficeControllerTest, SwitchesToKilometresWithoutChangingTheEvidence) {
    const double miles = room.view()->all.evidence.known;
    const auto chance = room.view()->all.curve.survival;
    session().setUnit(core::DistanceUnit::Kilometres);
    ASSERT_TRUE(waitFor([&] { return room.view()->query.unit == core::DistanceUnit::Kilometres; }));
    EXPECT_NEAR(room.view()->all.evidence.known, miles * 1.609344, miles * 1e-9);
    EXPECT_EQ(room.view()->all.curve.survival, chance);
}

TEST_F(OfficeControllerTest, OrdersTheThreeReadings) {
    std::vector<double> means;
    for (const auto reading : {core::Reading::Best, core::Reading::Known, core::Reading::Worst}) {
        ui::OfficeQuery query;
        query.reading = reading;
        query.mark = 30'000;
        const auto view = reviewLives(*session().lives(), *session().shelf(), session().staff(), query);
        ASSERT_TRUE(view.has_value());
        const core::ThreeReadings& at = view->all.readings;
        ASSERT_TRUE(at.best && at.known && at.worst);
        EXPECT_GE(*at.best, *at.known);
        EXPECT_GE(*at.known, *at.worst);
        means.push_back(core::valueAt(view->all.curve, view->all.counts, 30'000).survival.value_or(-1));
    }
    EXPECT_GE(means[0], means[1]);
    EXPECT_GE(means[1], means[2]);
}

TEST_F(OfficeControllerTest, GivesEachGroupTheShareOfUncheckedRepairsThatTipsItsClaim) {
    ui::OfficeQuery query;
    query.mark = 20'000;
    const auto view = reviewLives(*session().lives(), *session().shelf(), session().staff(), query);
    ASSERT_TRUE(view.has_value());
    std::map<std::string, std::vector<core::Life>> byPath;
    for (const core::LifeRecord& record : *session().lives())
        byPath[session().shelf()->find(*record.life.path)->name].push_back(record.life);
    int tested = 0;
    for (const ui::OfficeGroup& group : view->groups) {
        if (!group.tipping)
            continue;
        ++tested;
        // The same as the estimator says of the group's own lives.
        const auto point = core::tippingPoint(byPath.at(group.name), core::DistanceUnit::Miles,
                                              group.claim.value(), core::Distance::miles(20'000));
        ASSERT_TRUE(point.has_value()) << group.name;
        EXPECT_EQ(point->share, group.tipping->share) << group.name;
        EXPECT_TRUE(ui::groupEvidence(group, *view).contains(QStringLiteral("in 10 are quiet at 20,000")))
            << ui::groupEvidence(group, *view).toStdString();
    }
    EXPECT_GE(tested, 2) << "not the whole alone";
    query.reading = core::Reading::Worst;
    const auto worst = reviewLives(*session().lives(), *session().shelf(), session().staff(), query);
    ASSERT_TRUE(worst.has_value());
    for (const ui::OfficeGroup& group : worst->groups)
        EXPECT_FALSE(group.tipping) << "what is tested is what is known";
}

TEST_F(OfficeControllerTest, ShowsTheSheetsOfTheChosenMonth) {
    room.showTopic(ui::OwnerTopic::Report);
    ASSERT_TRUE(waitFor([&] { return room.page(ui::OwnerTopic::Report).sheets != nullptr; }));
    const auto sheets = room.page(ui::OwnerTopic::Report).sheets;
    const QString title = sheets->title();
    EXPECT_GE(sheets->flow().pageCount(), 1);
    EXPECT_TRUE(tests::keepPictures(room, QStringLiteral("office-report"), QSize(1136, 700)));
    emit room.reportChosen(3);
    ASSERT_TRUE(waitFor([&] { return room.page(ui::OwnerTopic::Report).sheets->title() != title; }));
}

TEST_F(OfficeControllerTest, ListsClaimsAndCountsThoseThatAreDue) {
    const auto claims = ask([](storage::Shop& shop) { return storage::ClaimStore(shop).all(); });
    ASSERT_TRUE(claims.has_value());
    ASSERT_FALSE(claims->empty()) << "the sample has claims";
    core::Job job = claims->front();
    job.claimState = core::ClaimState::ToFile;
    job.claimDeadline = core::addDays(session().today(), 4);
    ASSERT_TRUE(ask([job](storage::Shop& shop) { return shop.jobs().save({job, {}, {}}); }).has_value());
    database().announceChange();
    const auto* button = room.findChild<ui::Segmented*>(QStringLiteral("topics"))->button(1);
    ASSERT_TRUE(waitFor([&] { return button->text() != QStringLiteral("Comebacks"); }));
    room.showTopic(ui::OwnerTopic::Comebacks);
    ASSERT_TRUE(waitFor([&] { return !room.page(ui::OwnerTopic::Comebacks).table.rows.empty(); }));
    const auto& rows = room.page(ui::OwnerTopic::Comebacks).table.rows;
    EXPECT_EQ(rows.size(), claims->size());
    EXPECT_TRUE(std::any_of(rows.begin(), rows.end(),
                            [&](const auto& row) { return row.job == job.id && row.needsYou; }));
    EXPECT_TRUE(tests::keepPictures(room, QStringLiteral("office-comebacks"), QSize(1136, 700)));
}

TEST_F(OfficeControllerTest, WritesWhatItShowsToAFile) {
    QTemporaryDir folder;
    const QString path = folder.filePath(QStringLiteral("figures.csv"));
    QString said;
    QObject::connect(controller.get(), &OfficeController::said, controller.get(),
                     [&](const QString& what) { said = what; });
    controller->saveTo(path, ui::OfficeRoom::Export::GroupsCsv);
    EXPECT_TRUE(said.startsWith(QStringLiteral("Saved")));
    QFile file(path);
    ASSERT_TRUE(file.open(QIODevice::ReadOnly));
    EXPECT_EQ(file.readAll().count("\r\n"), static_cast<int>(room.view()->groups.size()) + 1);
    controller->saveTo(QStringLiteral("/nowhere/at/all.csv"), ui::OfficeRoom::Export::GroupsCsv);
    EXPECT_TRUE(said.startsWith(QStringLiteral("Not saved")));
}

} // namespace
} // namespace milehold::app
