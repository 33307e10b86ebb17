// SPDX-License-Identifier: GPL-3.0-or-later
// Who said "do not call me" is called from no list, no sheet and no calendar, and where the person is named
// their telephone is not.
#include "app/desktop/calls_controller.h"
#include "app/desktop/vehicle_controller.h"
#include "storage/exchange/records_file.h"
#include "storage/shop.h"
#include "tests/app/sample_desk.h"
#include "ui/counter/call_sheet_dialog.h"
#include "ui/counter/calls_panel.h"
#include "ui/vehicle/vehicle_page.h"

#include <QComboBox>
#include <QLabel>
#include <QListWidget>
#include <QProcess>
#include <QTemporaryDir>
#include <QTest>

#include <gmock/gmock.h>

#include <sstream>

namespace milehold::app {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

class DoNotCall : public tests::SampleDesk {
protected:
    void SetUp() override {
        SampleDesk::SetUp();
        controller = std::make_unique<CallsController>(panel, database(), session());
        panel.resize(1136, 660);
        panel.show();
        ASSERT_TRUE(waitFor([this] { return !panel.calls().empty() && !database().isBusy(); }));
        const auto vehicle = ask([id = panel.calls().front().call.vehicle](storage::Shop& shop) {
            return shop.vehicles().find(id);
        });
        ASSERT_TRUE(vehicle.has_value() && vehicle->customer.has_value());
        vehicleId = vehicle->id;
        person =
            ask([id = *vehicle->customer](storage::Shop& shop) { return shop.customers().find(id); }).value();
        ASSERT_FALSE(person.phones.empty());
        ASSERT_TRUE(isListed());
    }
    bool isListed() const {
        for (const auto& call : panel.calls())
            if (call.customer == person.name || call.phones == person.phones)
                return true;
        return false;
    }
    /// Another room or another station keeps the wish; `heard`: this window is told.
    void mark(bool heard) {
        core::Customer marked = person;
        marked.doNotCall = true;
        ASSERT_TRUE(ask([marked](storage::Shop& shop) { return shop.customers().save(marked); }).has_value());
        if (heard)
            database().announceChange();
    }
    static std::string calendarText(const CallsController& calls) {
        const auto made = core::momentFromIso("2031-05-01T10:42:07.125Z").value();
        return QString::fromStdString(calls.calendar(made).value())
            .replace(QStringLiteral("\r\n "), QString())
            .toStdString();
    }

    ui::CallsPanel panel;
    std::unique_ptr<CallsController> controller;
    core::Customer person;
    core::VehicleId vehicleId;
};

TEST_F(DoNotCall, LeavesTheListAndAllThatIsMadeFromItAtOnce) {
    ASSERT_THAT(calendarText(*controller), HasSubstr(person.phones.front()));
    const std::size_t before = panel.calls().size();
    mark(true);
    ASSERT_TRUE(waitFor([&] { return !isListed() && !database().isBusy(); }));
    EXPECT_GT(before, 1U);
    EXPECT_FALSE(panel.calls().empty());
    EXPECT_THAT(calendarText(*controller), Not(HasSubstr(person.phones.front())));
    EXPECT_THAT(calendarText(*controller), Not(HasSubstr(person.name)));
    auto* sheet = controller->openSheet();
    ASSERT_NE(sheet, nullptr);
    QTemporaryDir folder;
    const QString pdf = folder.filePath(QStringLiteral("calls.pdf"));
    sheet->savePdf(pdf);
    QProcess reader;
    reader.start(QStringLiteral("pdftotext"), {pdf, QStringLiteral("-")});
    ASSERT_TRUE(reader.waitForFinished(20'000));
    const std::string text = reader.readAllStandardOutput().toStdString();
    EXPECT_THAT(text, HasSubstr(panel.calls().front().customer)) << "the sheet can be read at all";
    EXPECT_THAT(text, Not(HasSubstr(person.name)));
    EXPECT_THAT(text, Not(HasSubstr(person.phones.front())));
}

TEST_F(DoNotCall, IsLookedUpAgainForAListThatWasRankedBefore) {
    mark(false);
    auto* show = panel.findChild<QComboBox*>(QStringLiteral("callShow"));
    show->setFocus();
    QTest::keyClick(show, Qt::Key_Down); // another view of the same ranking
    ASSERT_TRUE(waitFor([&] { return !database().isBusy(); }));
    EXPECT_FALSE(isListed());
    QTest::keyClick(show, Qt::Key_Up);
    ASSERT_TRUE(waitFor([&] { return !database().isBusy(); }));
    EXPECT_FALSE(isListed());
    EXPECT_FALSE(panel.calls().empty());
}

TEST_F(DoNotCall, SaidOnTheTelephoneIsMarkedAndHoldsForAllTheirVehicles) {
    QTest::keyClick(panel.findChild<QListWidget*>(QStringLiteral("calls")), Qt::Key_D);
    ASSERT_TRUE(waitFor([&] { return !isListed() && !database().isBusy(); }));
    EXPECT_TRUE(ask([id = person.id](storage::Shop& shop) { return shop.customers().find(id); })->doNotCall);
    const auto facts =
        ask([today = session().today()](storage::Shop& shop) { return shop.followUps().callFacts(today); });
    ASSERT_TRUE(facts.has_value());
    for (const auto& fact : *facts) {
        const auto job = ask([id = fact.job](storage::Shop& shop) { return shop.jobs().find(id); });
        const auto vehicle =
            ask([id = job->vehicle](storage::Shop& shop) { return shop.vehicles().find(id); });
        EXPECT_NE(vehicle->customer, person.id);
    }
}

TEST_F(DoNotCall, StandsOnThePageOfTheirVehicleInPlaceOfTheTelephone) {
    QWidget window;
    VehicleController pages(window, database(), session());
    const auto texts = [&] {
        pages.open(vehicleId);
        EXPECT_TRUE(waitFor([&] { return pages.page() != nullptr && !database().isBusy(); }));
        std::string all;
        for (const auto* label : pages.page()->findChildren<QLabel*>())
            all += label->text().toStdString() + "\n";
        pages.page()->close();
        EXPECT_TRUE(waitFor([&] { return pages.page() == nullptr; }));
        return all;
    };
    EXPECT_THAT(texts(), HasSubstr(person.phones.front()));
    mark(false);
    const std::string marked = texts();
    EXPECT_THAT(marked, HasSubstr("do not call"));
    EXPECT_THAT(marked, HasSubstr(person.name));
    EXPECT_THAT(marked, Not(HasSubstr(person.phones.front())));
}

TEST_F(DoNotCall, GoesWithTheCustomerIntoAnExportAndIsNotLostOnTheWayBack) {
    mark(false);
    const auto exported = ask([](storage::Shop& shop) -> core::Result<std::string> {
        std::ostringstream out;
        if (auto done = storage::exportRecords(shop, storage::RecordFile::Customers, out, {}); !done)
            return core::failureOf(done);
        return out.str();
    });
    ASSERT_TRUE(exported.has_value());
    std::istringstream lines(*exported);
    std::string line;
    bool seen = false;
    while (std::getline(lines, line)) {
        if (line.find(core::toString(person.id.uuid)) == std::string::npos)
            continue;
        seen = true;
        EXPECT_THAT(line, HasSubstr(",yes,"));
    }
    EXPECT_TRUE(seen);
    // The same file again, by a hand that updates what differs: the wish stays.
    const auto report = ask([text = *exported](storage::Shop& shop) {
        storage::ImportOptions how;
        how.update = true;
        return storage::importRecords(shop, storage::RecordFile::Customers, storage::bytesOf(text),
                                      "book.csv", how);
    });
    ASSERT_TRUE(report.has_value());
    EXPECT_TRUE(ask([id = person.id](storage::Shop& shop) { return shop.customers().find(id); })->doNotCall);
}

} // namespace
} // namespace milehold::app
