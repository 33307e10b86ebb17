// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/support/picture.h"
#include "ui/office/office_room.h"
#include "ui/office/owner_page.h"
#include "ui/widgets/segmented.h"

#include <QAbstractButton>
#include <QComboBox>
#include <QLabel>
#include <QPushButton>
#include <QSignalSpy>
#include <QTableView>
#include <QTest>

#include <gtest/gtest.h>

namespace milehold::ui {
namespace {

constexpr QSize kUsual(1136, 700);

core::JobId jobOf(std::uint8_t number) {
    core::JobId id;
    id.uuid.bytes[15] = number;
    return id;
}

core::ComebackReview someComebacks() {
    core::ComebackReview review;
    review.comebacks = 5;
    review.priced = 2;
    review.costs.kinds = {core::Money{70'000}, core::Money{20'000}, {}, core::Money{9'500}, {},
                          core::Money{15'500}};
    review.byPath = {{"Phasers alone", 38, 4, review.costs, {jobOf(1), jobOf(2), jobOf(3), jobOf(4)}},
                     {"Oil control valves", 12, 1, {}, {jobOf(5)}},
                     {"Chain set", 9, 0, {}, {}}};
    review.byReason = {{"our workmanship", 0, 5, review.costs, {jobOf(1)}}};
    review.byMonth = {{"2031-03", 0, 0, {}, {}}, {"2031-04", 0, 2, {}, {jobOf(1), jobOf(2)}}};
    return review;
}

const core::Date kToday{std::chrono::year{2031}, std::chrono::May, std::chrono::day{16}};

core::Job claimOn(std::uint8_t number, core::ClaimState state, int daysFromToday) {
    core::Job job;
    job.id = jobOf(number);
    job.vehicle.uuid.bytes[15] = number;
    job.number = number;
    job.claimState = state;
    job.claimDeadline = core::addDays(kToday, daysFromToday);
    job.claimAmount = core::Money{12'000};
    return job;
}

std::vector<core::ClaimRow> someClaims() {
    std::vector<core::Job> jobs{
        claimOn(11, core::ClaimState::Credited, -90), claimOn(12, core::ClaimState::Filed, -5),
        claimOn(13, core::ClaimState::ToFile, 31),    claimOn(14, core::ClaimState::ToFile, 9),
        claimOn(15, core::ClaimState::ToFile, -3),    claimOn(16, core::ClaimState::Lapsed, -40)};
    jobs[0].comebackCosts.credit = core::Money{9'000};
    jobs[1].claimNumber = "LD-20417";
    return core::claimsOf(jobs, {}, kToday);
}

TEST(OwnerPage, OpensTheJobsBehindABarByKeyboard) {
    OwnerPage page;
    page.setData(comebacksPage(someComebacks(), someClaims(), kToday, "USD"));
    page.resize(kUsual);
    page.show();
    EXPECT_TRUE(tests::keepPicture(page, QStringLiteral("owner-comebacks"), kUsual));
    std::vector<core::JobId> jobs;
    QString why;
    QObject::connect(&page, &OwnerPage::jobsWanted, &page,
                     [&](const std::vector<core::JobId>& wanted, const QString& reason) {
                         jobs = wanted;
                         why = reason;
                     });
    auto* chart = page.findChild<BarChart*>();
    ASSERT_NE(chart, nullptr);
    chart->setFocus();
    QTest::keyClick(chart, Qt::Key_Down);
    QTest::keyClick(chart, Qt::Key_Return);
    ASSERT_FALSE(jobs.empty());
    EXPECT_TRUE(jobs == someComebacks().byPath[0].jobs || jobs == someComebacks().byPath[1].jobs);
    EXPECT_FALSE(why.isEmpty());
}

TEST(OwnerPage, SaysWhatTheComebacksCostAndLeavesOutPathsWithoutAny) {
    const OwnerPageData page = comebacksPage(someComebacks(), {}, kToday, "USD");
    EXPECT_TRUE(page.lead.contains(QStringLiteral("$840")));
    EXPECT_TRUE(page.lead.contains(QStringLiteral("$420"))) << page.lead.toStdString();
    const auto& bars = std::get<BarData>(page.figures[0].chart);
    ASSERT_EQ(bars.rows.size(), 2U);
    EXPECT_EQ(bars.rows[0].parts[0].value, 4);
    EXPECT_EQ(std::get<BarData>(page.figures[3].chart).rows.size(), 2U)
        << "a month without any is a month too";
    EXPECT_TRUE(comebacksPage({}, {}, kToday, "USD").figures.empty());
}

TEST(OwnerPage, BreaksWhatComebacksCostDownByKindInAllAndByPath) {
    const OwnerPageData page = comebacksPage(someComebacks(), {}, kToday, "USD");
    const auto& bars = std::get<BarData>(page.figures[1].chart);
    EXPECT_EQ(bars.partNames.size(), 6);
    ASSERT_EQ(bars.rows.size(), 2U) << "all, and the one path that cost anything";
    for (const BarRow& row : bars.rows) {
        ASSERT_EQ(row.parts.size(), 6U);
        const double wanted[] = {700, 200, 0, 95, 0, 0}; // labour, parts, rental, towing, goodwill, other
        for (std::size_t kind = 0; kind < 6; ++kind)
            EXPECT_EQ(row.parts[kind].value, wanted[kind]) << kind;
        EXPECT_EQ(row.figure, QStringLiteral("$840 after $155 credited"));
    }
    EXPECT_EQ(page.figures[1].jobs.at(bars.rows[0].id).jobs.size(), 5U)
        << "all opens every repair that came back";
}

TEST(OwnerPage, ListsTheMostPressingClaimsFirstAndSaysHowMany) {
    OwnerPageData page = comebacksPage(someComebacks(), someClaims(), kToday, "USD");
    std::vector<int> order;
    std::vector<bool> amber;
    for (const OwnerTable::Row& row : page.table.rows) {
        order.push_back(row.job.uuid.bytes[15]);
        amber.push_back(row.needsYou);
    }
    EXPECT_EQ(order, (std::vector<int>{15, 14, 13, 12, 11, 16}));
    EXPECT_EQ(amber, (std::vector<bool>{true, true, false, false, false, false}));
    EXPECT_TRUE(page.table.rows[0].cells[1].contains(QStringLiteral("3 days past")));
    EXPECT_TRUE(page.table.rows[1].cells[1].contains(QStringLiteral("in 9 days")));
    EXPECT_EQ(page.table.rows[3].cells[3], QStringLiteral("LD-20417"));
    EXPECT_EQ(page.table.rows[4].cells[5], QStringLiteral("$90.00"));
    EXPECT_TRUE(page.lead.contains(QStringLiteral("Claims past their deadline: 1.")))
        << page.lead.toStdString();
    EXPECT_TRUE(page.lead.contains(QStringLiteral("within 30 days: 1.")));
    EXPECT_TRUE(page.lead.contains(QStringLiteral("not decided: 1, $120 claimed")));
}

TEST(OwnerPage, OpensTheJobOfAClaimByKeyboardAndTellsItsVehicle) {
    OfficeRoom room;
    room.resize(kUsual);
    room.show();
    room.showTopic(OwnerTopic::Comebacks);
    EXPECT_FALSE(room.currentVehicle());
    room.setPage(OwnerTopic::Comebacks, comebacksPage(someComebacks(), someClaims(), kToday, "USD"));
    room.setClaimsDue(2);
    EXPECT_TRUE(tests::keepPictures(room, QStringLiteral("owner-claims"), kUsual));
    std::vector<core::JobId> jobs;
    QObject::connect(&room, &OfficeRoom::jobsWanted, &room,
                     [&](const std::vector<core::JobId>& wanted, const QString&) { jobs = wanted; });
    QTableView* table = nullptr;
    for (auto* one : room.findChildren<QTableView*>(QStringLiteral("ownerTable")))
        if (one->isVisible())
            table = one;
    ASSERT_NE(table, nullptr);
    QTest::keyClick(table, Qt::Key_Down);
    EXPECT_EQ(room.currentVehicle()->uuid.bytes[15], 14);
    QTest::keyClick(table, Qt::Key_Return);
    EXPECT_EQ(jobs, std::vector{jobOf(14)});
    auto* topics = room.findChild<Segmented*>(QStringLiteral("topics"));
    EXPECT_EQ(topics->button(1)->text(), QStringLiteral("Comebacks (2)"));
    room.setClaimsDue(0);
    EXPECT_EQ(topics->button(1)->text(), QStringLiteral("Comebacks"));
}

TEST(OwnerPage, SaysInWordsWhereThereIsTooLittle) {
    const auto few = core::fail(core::ErrorCode::NotEstimable, "fewer than five comebacks: too few");
    EXPECT_EQ(warrantyPage(few, core::DistanceUnit::Miles, "USD").lead,
              QStringLiteral("Fewer than five comebacks: too few."));
    EXPECT_TRUE(factorsPage(few).figures.empty());
    EXPECT_TRUE(quotesPage(core::QuoteCheck{}).lead.startsWith(QStringLiteral("No quote has been kept yet")));
    const OwnerPageData people = peoplePage(few, few);
    EXPECT_EQ(people.figures[0].words, QStringLiteral("Fewer than five comebacks: too few."));
}

TEST(OwnerPage, ShowsQuotesAgainstWhatWasSeen) {
    core::QuoteCheck check;
    check.given = 30;
    check.waiting = 4;
    core::QuoteBin right;
    right.from = 0.8;
    right.to = 0.9;
    right.quotes = 14;
    right.quoted = 0.86;
    right.observed = 0.82;
    right.lower = 0.6;
    right.upper = 0.94;
    core::QuoteBin wrong = right;
    wrong.from = 0.9;
    wrong.to = 1;
    wrong.quoted = 0.97;
    wrong.jobs = {jobOf(7)};
    check.bins = {right, wrong};
    check.all = right;
    const OwnerPageData page = quotesPage(check);
    EXPECT_TRUE(page.lead.contains(QStringLiteral("Off: quoted 90"))) << page.lead.toStdString();
    EXPECT_FALSE(page.lead.contains(QStringLiteral("quoted 80")));
    const auto& rows = std::get<ForestData>(page.figures[0].chart).rows;
    ASSERT_EQ(rows.size(), 3U);
    EXPECT_EQ(rows[1].estimate, wrong.observed);
    EXPECT_EQ(page.figures[0].jobs.at(rows[1].id).jobs, wrong.jobs);
    OwnerPage shown;
    shown.setData(page);
    EXPECT_TRUE(tests::keepPicture(shown, QStringLiteral("owner-quotes"), kUsual));
}

TEST(OwnerPage, ShowsLimitsThatWereToldWhereNoChanceWas) {
    core::QuoteCheck check;
    check.given = 20;
    check.noEstimate = 20;
    core::QuoteBin limits;
    limits.isLimit = true;
    limits.quotes = 20;
    limits.quoted = 0.4;
    limits.observed = 0.8;
    limits.lower = 0.6;
    limits.upper = 0.93;
    check.limits = limits;
    const OwnerPageData page = quotesPage(check);
    EXPECT_TRUE(page.lead.contains(QStringLiteral("limits that were told agree"))) << page.lead.toStdString();
    const auto& rows = std::get<ForestData>(page.figures.at(0).chart).rows;
    ASSERT_EQ(rows.size(), 1U);
    EXPECT_EQ(rows[0].estimate, 0.8);
    EXPECT_TRUE(rows[0].counts.contains(QStringLiteral("at least")));
    check.limits->quoted = 0.95;
    EXPECT_TRUE(quotesPage(check).lead.contains(QStringLiteral("Off: limits only")));
}

TEST(OwnerPage, PricesTheWarrantyPathByPath) {
    core::WarrantyReview review;
    review.drivers = 40;
    review.meanCost = 50'000;
    review.pathTerms = {24, 24'000};
    core::WarrantyRow row;
    row.terms = {24, 24'000};
    row.own = true;
    row.cost.share = {0.2, 0.1, 0.3};
    row.cost.money.value = 1'000'000; // of a hundred repairs
    review.rows = {row};
    core::WarrantyPath priced;
    priced.name = "Phasers alone";
    priced.repairs = 30;
    priced.comebacks = 6;
    priced.cost = row.cost;
    priced.ofPrice = 0.08;
    priced.jobs = {jobOf(3)};
    core::WarrantyPath few;
    few.name = "Chain set";
    few.repairs = 4;
    few.why = "too few to say";
    review.byPath = {priced, few};
    const OwnerPageData page = warrantyPage(review, core::DistanceUnit::Miles, "USD");
    ASSERT_EQ(page.figures.size(), 2U);
    const auto& rows = std::get<ForestData>(page.figures[1].chart).rows;
    ASSERT_EQ(rows.size(), 2U);
    EXPECT_EQ(rows[0].counts, QStringLiteral("$100, 8\u00a0% of its price"));
    EXPECT_EQ(rows[0].estimate, 0.2);
    EXPECT_FALSE(rows[1].estimate);
    EXPECT_EQ(page.figures[1].jobs.at(rows[0].id).jobs, priced.jobs);
    OwnerPage shown;
    shown.setData(page);
    EXPECT_TRUE(tests::keepPicture(shown, QStringLiteral("owner-warranty"), kUsual));
}

TEST(OwnerPage, CutsTheMonthsOfTheReportFromToday) {
    const core::Date today{std::chrono::year{2031}, std::chrono::January, std::chrono::day{9}};
    EXPECT_EQ(reportMonth(today, 0),
              (std::chrono::year_month{std::chrono::year{2030}, std::chrono::December}));
    EXPECT_EQ(reportMonth(today, 12),
              (std::chrono::year_month{std::chrono::year{2029}, std::chrono::December}));
    EXPECT_EQ(reportPage(today).choices.size(), 24);
}

TEST(OfficeTopics, AreAllReachedByKeyboardAndAskForTheirPages) {
    OfficeRoom room;
    room.resize(kUsual);
    room.show();
    room.activateWindow();
    ASSERT_TRUE(QTest::qWaitForWindowActive(&room));
    std::vector<OwnerTopic> asked;
    QObject::connect(&room, &OfficeRoom::topicWanted, &room,
                     [&](OwnerTopic topic) { asked.push_back(topic); });
    auto* topics = room.findChild<Segmented*>(QStringLiteral("topics"));
    ASSERT_NE(topics, nullptr);
    EXPECT_EQ(ownerTopicNames().size(), static_cast<int>(OwnerTopic::Report) + 1);
    topics->button(0)->setFocus();
    for (int i = 1; i < ownerTopicNames().size(); ++i)
        QTest::keyClick(topics->button(i - 1), Qt::Key_Right);
    ASSERT_EQ(asked.size(), static_cast<std::size_t>(OwnerTopic::Report));
    EXPECT_EQ(asked.front(), OwnerTopic::Comebacks);
    EXPECT_EQ(room.topic(), OwnerTopic::Report);
    const core::Date today{std::chrono::year{2031}, std::chrono::April, std::chrono::day{9}};
    room.setPage(OwnerTopic::Report, reportPage(today));
    QSignalSpy reports(&room, &OfficeRoom::reportWanted);
    for (auto* button : room.findChildren<QPushButton*>(QStringLiteral("ownerAction")))
        if (button->isVisible())
            button->click();
    ASSERT_EQ(reports.count(), 1);
    EXPECT_EQ(reports.at(0).at(0).toInt(), 0);
    room.showTopic(OwnerTopic::Curves);
    EXPECT_TRUE(room.findChild<QPushButton*>(QStringLiteral("export"))->isVisible());
}

} // namespace
} // namespace milehold::ui
