// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/support/bay_sample.h"
#include "tests/support/picture.h"
#include "ui/charts/odometer_line.h"
#include "ui/vehicle/vehicle_events.h"
#include "ui/vehicle/vehicle_page.h"
#include "ui/widgets/record_table.h"

#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QTest>

#include <gtest/gtest.h>

#include <algorithm>

namespace milehold::ui {
namespace {

core::Date day(int year, unsigned month, unsigned dayOfMonth) {
    return {std::chrono::year(year), std::chrono::month(month), std::chrono::day(dayOfMonth)};
}

template <class IdType> IdType key(std::uint8_t number) {
    IdType id;
    id.uuid.bytes[15] = number;
    return id;
}

core::Job jobOn(std::uint8_t number, core::Date date, std::int64_t miles) {
    core::Job job;
    job.id = key<core::JobId>(number);
    job.number = number;
    job.vehicle = key<core::VehicleId>(1);
    job.writtenUp = date;
    job.delivered = date;
    job.odometerIn = core::Distance::miles(miles);
    job.odometerOut = core::Distance::miles(miles + 3);
    job.deliveryCheck = core::DeliveryCheck::Quiet;
    return job;
}

/// A repair with a new calibration, a quiet call by estimate, a replaced instrument, and the comeback.
VehiclePageContent someVehicle() {
    VehiclePageContent content;
    content.history.vehicle.id = key<core::VehicleId>(1);
    content.history.vehicle.maker = "Orbin";
    content.history.vehicle.model = "Vale";
    content.history.vehicle.modelYear = 2021;
    content.history.vehicle.plate = "KLM 204";
    core::Job repair = jobOn(12, day(2029, 8, 2), 60'000);
    repair.calibrationBefore = "K7-0029";
    repair.calibrationAfter = "K7-0031";
    core::Job back = jobOn(31, day(2031, 3, 1), 1'000);
    back.comebackOf = repair.id;
    back.comebackDecision = core::ComebackDecision::Workmanship;
    back.comebackCause = "Bolt not angled";
    core::Job voided = jobOn(32, day(2031, 3, 2), 1'010);
    voided.voidReason = "entered twice";
    content.history.jobs = {repair, back, voided};
    core::FollowUp told;
    told.id = key<core::FollowUpId>(1);
    told.job = repair.id;
    told.date = day(2030, 2, 11);
    told.outcome = core::FollowUpOutcome::Quiet;
    told.odometer = core::Distance::miles(66'000);
    told.odometerEstimated = true;
    content.history.followUps = {told};
    core::OdometerReading typed;
    typed.id = key<core::OdometerId>(1);
    typed.vehicle = content.history.vehicle.id;
    typed.date = day(2030, 6, 1);
    typed.shown = core::Distance::miles(68'500);
    core::OdometerReading replaced = typed;
    replaced.id = key<core::OdometerId>(2);
    replaced.date = day(2030, 12, 1);
    replaced.shown = core::Distance::miles(10);
    replaced.resetOffset = core::Distance::miles(73'000);
    content.history.odometers = {typed, replaced};
    const auto lives = core::deriveLives(content.history, {}, day(2031, 5, 16));
    EXPECT_TRUE(lives.has_value());
    content.lives = lives.value_or(std::vector<core::Life>{});
    content.yearly = core::yearlyDistance(content.history, {}, day(2031, 5, 16));
    return content;
}

using Kind = VehicleEvent::Kind;

TEST(VehicleEvents, TellEverythingOnceNewestFirst) {
    const auto content = someVehicle();
    const auto events = vehicleEvents(content.history, content.lives, *content.shelf, content.unit);
    std::vector<Kind> kinds;
    for (const auto& event : events)
        kinds.push_back(event.kind);
    EXPECT_EQ(kinds, (std::vector{Kind::Repair, Kind::Comeback, Kind::Replacement, Kind::Reading, Kind::Call,
                                  Kind::Repair, Kind::Calibration}));
    EXPECT_EQ(events[1].what, QStringLiteral("Job 12 came back"));
    EXPECT_TRUE(events[1].details.contains(QStringLiteral("Bolt not angled")));
    EXPECT_TRUE(events[2].details.contains(QStringLiteral("73,010"))) << events[2].details.toStdString();
    EXPECT_TRUE(events[3].job.isNull());
    EXPECT_TRUE(events[4].estimated);
    EXPECT_EQ(events[4].job, key<core::JobId>(12));
    EXPECT_EQ(events[6].details, QStringLiteral("K7-0029 to K7-0031"));
}

TEST(VehicleEvents, SayWhereTheYearlyDistanceComesFrom) {
    core::YearlyDistance yearly{core::Distance::miles(12'400), core::YearlySource::Readings, 7};
    EXPECT_TRUE(yearlyText(yearly, core::DistanceUnit::Miles).contains(QStringLiteral("12,400")));
    EXPECT_TRUE(
        yearlyText(yearly, core::DistanceUnit::Miles).contains(QStringLiteral("7 odometer readings")));
    yearly.source = core::YearlySource::ShopDefault;
    EXPECT_TRUE(yearlyText(yearly, core::DistanceUnit::Miles).contains(QStringLiteral("usual figure")));
}

TEST(VehiclePage, OpensTheJobOfARowByKeyboard) {
    VehiclePage page(someVehicle());
    EXPECT_TRUE(tests::keepPictures(page, QStringLiteral("vehicle-page"), QSize(1120, 700)));
    core::JobId wanted;
    QObject::connect(&page, &VehiclePage::jobWanted, &page, [&](core::JobId job) { wanted = job; });
    auto* table = page.findChild<RecordTable*>(QStringLiteral("vehicleEvents"));
    QTest::keyClick(table, Qt::Key_Return);
    EXPECT_EQ(wanted, key<core::JobId>(31)) << "the newest is at hand";
    for (int i = 0; i < 4; ++i)
        QTest::keyClick(table, Qt::Key_Down);
    QTest::keyClick(table, Qt::Key_Return);
    EXPECT_EQ(wanted, key<core::JobId>(12)) << "a call opens the job that it is about";
    QTest::keyClick(table, Qt::Key_Escape);
    EXPECT_FALSE(page.isVisible());
}

TEST(VehicleEvents, ShowAVoidedAnswerAsOneAndFilesOnTheDayOfTheirJob) {
    auto content = someVehicle();
    content.history.followUps[0].voidReason = "The wrong customer";
    core::Attachment photo;
    photo.id = key<core::AttachmentId>(5);
    photo.job = key<core::JobId>(31);
    photo.kind = "jpg";
    photo.name = "chain cover.jpg";
    photo.size = 2'000'000;
    core::Attachment ofVoid = photo;
    ofVoid.job = key<core::JobId>(32);
    const std::vector files{photo, ofVoid};
    const auto events = vehicleEvents(content.history, content.lives, *content.shelf, content.unit, files);
    ASSERT_EQ(events.size(), 8U) << "a file of a voided job is left out";
    const auto file =
        std::find_if(events.begin(), events.end(), [](const auto& one) { return one.file.has_value(); });
    ASSERT_NE(file, events.end());
    EXPECT_EQ(file->kind, Kind::File);
    EXPECT_EQ(file->date, day(2031, 3, 1));
    EXPECT_TRUE(file->details.contains(QStringLiteral("chain cover.jpg")));
    const auto call =
        std::find_if(events.begin(), events.end(), [](const auto& one) { return one.isVoid(); });
    ASSERT_NE(call, events.end());
    EXPECT_TRUE(call->details.startsWith(QStringLiteral("void: The wrong customer")));
}

TEST(VehiclePage, OpensAFileAndVoidsAnAnswerWithAReason) {
    auto content = someVehicle();
    core::Attachment photo;
    photo.id = key<core::AttachmentId>(5);
    photo.job = key<core::JobId>(31);
    photo.kind = "jpg";
    photo.name = "chain cover.jpg";
    content.files = {photo};
    content.history.followUps[0].revision = 4;
    VehiclePage page(content);
    EXPECT_TRUE(tests::keepPictures(page, QStringLiteral("vehicle-page-files"), QSize(1120, 700)));
    core::AttachmentId opened;
    QObject::connect(&page, &VehiclePage::fileWanted, &page, [&](core::AttachmentId file) { opened = file; });
    std::vector<std::pair<qint64, QString>> voided;
    QObject::connect(&page, &VehiclePage::voidWanted, &page,
                     [&](core::FollowUpId call, qint64 revision, const QString& reason) {
                         EXPECT_EQ(call, key<core::FollowUpId>(1));
                         voided.emplace_back(revision, reason);
                     });
    auto* table = page.findChild<RecordTable*>(QStringLiteral("vehicleEvents"));
    auto* button = page.findChild<QPushButton*>(QStringLiteral("voidAnswer"));
    auto* reason = page.findChild<QLineEdit*>(QStringLiteral("voidReason"));
    for (std::size_t row = 0; row < page.events().size(); ++row) {
        table->setCurrentRecord(static_cast<int>(row));
        EXPECT_EQ(button->isEnabled(), page.events()[row].call.has_value()) << row;
        if (page.events()[row].file)
            QTest::keyClick(table, Qt::Key_Return);
    }
    EXPECT_EQ(opened, photo.id);
    for (std::size_t row = 0; row < page.events().size(); ++row)
        if (page.events()[row].call)
            table->setCurrentRecord(static_cast<int>(row));
    button->click();
    ASSERT_TRUE(reason->isVisible());
    QTest::keyClick(reason, Qt::Key_Return);
    EXPECT_TRUE(voided.empty()) << "never without a reason";
    QTest::keyClicks(reason, QStringLiteral("The wrong customer"));
    QTest::keyClick(reason, Qt::Key_Return);
    ASSERT_EQ(voided.size(), 1U);
    EXPECT_EQ(voided[0], std::pair(qint64{4}, QStringLiteral("The wrong customer")));
    QTest::keyClick(reason, Qt::Key_Escape);
    EXPECT_FALSE(reason->isVisible());
    EXPECT_TRUE(page.isVisible()) << "Escape leaves the question, not the page";
}

TEST(VehiclePage, ShowsTheWholeOdometerOfAnEstimate) {
    VehiclePage page(someVehicle());
    page.show();
    auto* table = page.findChild<RecordTable*>(QStringLiteral("vehicleEvents"));
    const int wanted = table->fontMetrics().horizontalAdvance(QStringLiteral("about 66,000 mi"));
    EXPECT_GT(table->columnWidth(2), wanted + 10);
}

TEST(VehiclePage, ChartsWhatWasReadAndNoEstimate) {
    VehiclePage page(someVehicle());
    const auto table = page.findChild<OdometerLine*>(QStringLiteral("yearlyChart"))->asTable();
    EXPECT_EQ(table.rows.size(), 5U) << "two repairs, the comeback, the reading and the replacement";
}

} // namespace
} // namespace milehold::ui
