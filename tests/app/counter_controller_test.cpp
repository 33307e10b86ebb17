// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/counter_controller.h"
#include "storage/quote_store.h"
#include "storage/shop.h"
#include "tests/app/sample_desk.h"
#include "tests/support/picture.h"
#include "ui/counter/option_sheet.h"
#include "ui/counter/quote_page_dialog.h"
#include "ui/widgets/search_box.h"

#include <QFile>
#include <QTemporaryDir>
#include <QTest>

#include <gtest/gtest.h>

#include <algorithm>

namespace milehold::app {
namespace {

class CounterControllerTest : public tests::SampleDesk {
protected:
    void SetUp() override {
        SampleDesk::SetUp();
        controller = std::make_unique<CounterController>(room, database(), session());
        room.resize(1136, 700);
        room.show();
        const auto hits = ask([](storage::Shop& shop) { return shop.vehicles().search("", 50); });
        ASSERT_TRUE(hits.has_value());
        for (const storage::VehicleHit& hit : *hits) {
            if (!hit.vin.empty() && !hit.plate.empty() && !vehicle.vin.size())
                vehicle = hit;
        }
        ASSERT_FALSE(vehicle.vin.empty());
    }

    /// Puts the vehicle on the counter and waits for its quote.
    void quote() {
        controller->quoteVehicle(vehicle.id);
        ASSERT_TRUE(waitFor([&] { return room.quote() != nullptr; }));
    }

    ui::CounterRoom room;
    std::unique_ptr<CounterController> controller;
    storage::VehicleHit vehicle;
};

TEST_F(CounterControllerTest, FindsAVehicleByTheEndOfItsVinAndQuotesForIt) {
    auto* search = room.findChild<ui::SearchBox*>(QStringLiteral("findVehicle"));
    search->setFocus();
    QTest::keyClicks(search, QString::fromStdString(vehicle.vin).right(8));
    ASSERT_TRUE(waitFor([&] { return search->resultCount() > 0; }));
    QTest::keyClick(search, Qt::Key_Return);
    ASSERT_TRUE(waitFor([&] { return room.quote() != nullptr; }));
    ASSERT_TRUE(room.vehicle().vehicle.has_value());
    EXPECT_EQ(room.vehicle().vehicle->id, vehicle.id);
    EXPECT_FALSE(room.quote()->paths.empty());
    EXPECT_TRUE(tests::keepPictures(room, QStringLiteral("counter-sample"), QSize(1136, 700)));
}

TEST_F(CounterControllerTest, QuotesTheSameAsCoreFromTheSameLives) {
    quote();
    core::QuoteOptions options;
    options.unit = session().unit();
    options.dataDate = session().today();
    const auto expected = core::makeQuote(*session().lives(), room.query()->subject, *session().shelf(),
                                          session().settings(), options);
    ASSERT_TRUE(expected.has_value());
    ASSERT_EQ(room.quote()->paths.size(), expected->paths.size());
    for (std::size_t i = 0; i < expected->paths.size(); ++i) {
        EXPECT_EQ(room.quote()->paths[i].sentence, expected->paths[i].sentence);
        EXPECT_EQ(room.quote()->paths[i].jobs, expected->paths[i].jobs);
    }
}

TEST_F(CounterControllerTest, TheNewestQuestionWins) {
    quote();
    for (const std::int64_t yearly : {8'000, 15'000, 31'000}) {
        ui::CounterVehicle changed = room.vehicle();
        changed.yearly = {core::Distance::miles(yearly), core::YearlySource::ShopDefault, 0};
        room.setVehicle(changed);
    }
    ASSERT_TRUE(waitFor([&] {
        return room.quote() && room.quote()->subject.yearly.perYear == core::Distance::miles(31'000);
    }));
    QTest::qWait(50);
    EXPECT_EQ(room.quote()->subject.yearly.perYear, core::Distance::miles(31'000));
}

TEST_F(CounterControllerTest, OpensTheJobsBehindTheNumberThatTheRecordsHave) {
    quote();
    std::vector<core::JobId> shown;
    QObject::connect(controller.get(), &CounterController::showJobs, controller.get(),
                     [&](const std::vector<core::JobId>& jobs, const QString&) { shown = jobs; });
    auto* sheet = room.findChild<ui::OptionSheet*>(QStringLiteral("optionSheet"));
    QTest::keyClick(sheet, Qt::Key_Return);
    ASSERT_FALSE(shown.empty());
    for (const core::JobId job : shown) {
        const auto found = ask([job](storage::Shop& shop) { return shop.jobs().find(job); });
        ASSERT_TRUE(found.has_value());
        EXPECT_EQ(found->path, room.quote()->paths[static_cast<std::size_t>(room.chosenPath())].path);
    }
}

TEST_F(CounterControllerTest, KeepsWhatWasQuotedWhenThePageIsSavedAndTakesItBack) {
    quote();
    const auto kept = [this] {
        const auto quotes =
            ask([id = vehicle.id](storage::Shop& shop) { return storage::QuoteStore(shop).ofVehicle(id); });
        EXPECT_TRUE(quotes.has_value());
        return quotes.value_or(std::vector<core::GivenQuote>{});
    };
    const std::size_t before = kept().size();
    ui::QuotePageDialog* dialog = controller->openPage();
    ASSERT_NE(dialog, nullptr);
    QTemporaryDir folder;
    dialog->savePdf(folder.filePath(QStringLiteral("page.pdf")));
    ASSERT_TRUE(waitFor([&] { return kept().size() == before + 1; }));
    const core::PathQuote& told = room.quote()->paths[static_cast<std::size_t>(room.chosenPath())];
    const auto quotes = kept();
    const auto found = std::find_if(quotes.begin(), quotes.end(), [&](const core::GivenQuote& quote) {
        return quote.sentence == told.sentence && quote.date == session().today();
    });
    ASSERT_NE(found, quotes.end());
    EXPECT_EQ(found->path, told.path);
    EXPECT_EQ(found->horizon.whole(session().unit()), told.horizon.at);
    EXPECT_EQ(found->chance.has_value(), told.horizon.chance.has_value());
    // Copied the same day in the same words it is the same quote.
    emit room.quoteGiven();
    QTest::qWait(50);
    EXPECT_EQ(kept().size(), before + 1);
}

TEST_F(CounterControllerTest, KeepsThePageAsItWasOpenedWhileTheRoomGoesOn) {
    quote();
    ui::QuotePageDialog* dialog = controller->openPage();
    ASSERT_NE(dialog, nullptr);
    QTemporaryDir folder;
    dialog->savePdf(folder.filePath(QStringLiteral("before.pdf")));
    room.setVehicle({});
    EXPECT_EQ(room.quote(), nullptr);
    dialog->savePdf(folder.filePath(QStringLiteral("after.pdf")));
    QFile before(folder.filePath(QStringLiteral("before.pdf")));
    QFile after(folder.filePath(QStringLiteral("after.pdf")));
    ASSERT_TRUE(before.open(QIODevice::ReadOnly) && after.open(QIODevice::ReadOnly));
    EXPECT_EQ(before.size(), after.size());
    EXPECT_EQ(controller->openPage(), nullptr) << "there is no quote any more";
}

TEST_F(CounterControllerTest, QuotesByHandWithoutAVehicle) {
    ui::CounterVehicle described;
    described.family = session().shelf()->families.front().id;
    room.setVehicle(described);
    ASSERT_TRUE(waitFor([&] { return room.quote() != nullptr; }));
    EXPECT_EQ(room.quote()->subject.family, described.family);
    EXPECT_EQ(room.quote()->subject.yearly.perYear, session().settings().defaultYearly);
}

} // namespace
} // namespace milehold::app
