// SPDX-License-Identifier: GPL-3.0-or-later
// Personal data stays in the records: after a run through the window with errors on purpose there is not a
// word of it in logs, on standard error or in the file for support; and after forgetting a customer not in
// the database either, nor in a journal or a draft. Words that stand nowhere else are searched for byte by
// byte, on both engines.
#include "app/desktop/desk.h"
#include "app/desktop/records_desk.h"
#include "sample-shop/sample_shop.h"
#include "storage/attachment_store.h"
#include "storage/erasure.h"
#include "storage/exchange/records_file.h"
#include "storage/server/setup_server.h"
#include "storage/shop.h"
#include "tests/app/caught_errors.h"
#include "tests/support/picture.h"
#include "tests/support/postgresql_server.h"
#include "ui/bay/bay_room.h"
#include "ui/counter/calls_panel.h"
#include "ui/records/forget_dialog.h"
#include "ui/records/history_dialog.h"
#include "ui/shelf/detail_pane.h"
#include "ui/shelf/record_form.h"
#include "ui/shelf/shelf_room.h"
#include "ui/shell/main_window.h"
#include "ui/theme/theme.h"

#include <QApplication>
#include <QCheckBox>
#include <QLabel>
#include <QLineEdit>
#include <QProcess>
#include <QPushButton>
#include <QSettings>
#include <QStandardPaths>
#include <QTemporaryDir>
#include <QTest>

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <sstream>

namespace milehold::app {
namespace {

namespace fs = std::filesystem;
constexpr int kPatienceMs = 60'000;

std::string bytesOf(const fs::path& file) {
    std::ifstream in(file, std::ios::binary);
    std::stringstream text;
    text << in.rdbuf();
    return text.str();
}

/// Of the customer: forgetting takes them from everywhere.
const std::vector<std::string> kOfTheCustomer = {
    "Qanaryna", "QANWELLS",          "5550777319", "qanmail",     "QANBEST",  "QANNOTE",
    "QANPLATE", "0TK4RM27XKP042788", "QANVEHICLE", "QANCONCERN",  "QANCAUSE", "QANFIX",
    "QANTYPED", "QANCALLED",         "QANPHOTO",   "QANCALLTYPED"};
/// Of the shop: they stay in its records, and leave them nowhere.
const std::vector<std::string> kOfTheShop = {"ZOXSTAFF", "ZOXORDER", "ZOXLINE",    "ZOXLOT",
                                             "ZOXSHELF", "ZOXTYPED", "ZOXSUPPLIER"};

class PersonalData : public testing::TestWithParam<bool> {
protected:
    void SetUp() override {
        QStandardPaths::setTestModeEnabled(true);
        ASSERT_TRUE(place.isValid());
        root = fs::path(place.path().toStdString());
        QSettings::setPath(QSettings::NativeFormat, QSettings::UserScope,
                           place.filePath(QStringLiteral("settings")));
        shop = GetParam() ? test::PostgresqlServer::shared().makeDatabase()
                          : (root / "Canary.milehold").string();
        sample::SampleOptions options;
        options.jobs = 40;
        const auto book = sample::generate(options);
        ASSERT_TRUE(book.has_value());
        if (GetParam()) {
            ASSERT_TRUE(storage::makeShopOnServer(shop, book->settings).has_value());
        }
        auto made = GetParam() ? storage::Shop::open(shop) : storage::Shop::create(shop, book->settings);
        ASSERT_TRUE(made.has_value());
        ASSERT_TRUE(sample::write(*book, **made).has_value());
        ASSERT_TRUE((*made)->close().has_value());
        desk = std::make_unique<Desk>([day = options.endsOn] { return day; });
        bool opened = false;
        QObject::connect(desk.get(), &Desk::opened, desk.get(), [&] { opened = true; });
        caught = std::make_unique<test::CaughtErrors>(root / "stderr.txt");
        desk->openShop(QString::fromStdString(shop));
        ASSERT_TRUE(QTest::qWaitFor([&] { return opened; }, kPatienceMs));
        settle();
        records = desk->records();
    }
    void settle() {
        ASSERT_TRUE(QTest::qWaitFor([&] { return !desk->isBusy(); }, kPatienceMs));
        QTest::qWait(20);
        ASSERT_TRUE(QTest::qWaitFor([&] { return !desk->isBusy(); }, kPatienceMs));
    }
    template <class Widget> Widget* find() { return desk->window()->findChild<Widget*>(); }
    template <class Dialog> Dialog* dialog() {
        Dialog* found = nullptr;
        EXPECT_TRUE(QTest::qWaitFor([&] { return (found = find<Dialog>()) != nullptr && found->isVisible(); },
                                    kPatienceMs));
        return found;
    }
    template <class Work> auto ask(Work work) {
        std::optional<std::invoke_result_t<Work, storage::Shop&>> answer;
        desk->database().ask(desk.get(), std::move(work), [&](auto given) { answer = std::move(given); });
        EXPECT_TRUE(QTest::qWaitFor([&] { return answer.has_value(); }, kPatienceMs));
        return std::move(*answer);
    }
    template <class Work> void wrong(Work work) {
        const auto outcome = ask(std::move(work));
        ASSERT_FALSE(outcome.has_value());
        details.push_back(outcome.error().detail);
    }
    void openTheJob() {
        desk->openNewestJob();
        settle();
        ASSERT_TRUE(find<ui::BayRoom>()->isSheetOpen());
        card = find<ui::BayRoom>()->sheet()->form()->stored();
    }
    void fillEveryField();
    void typeWithoutSaving();
    void makeErrors();
    void forget();
    void expectNowhere(const std::string& text, const std::vector<std::string>& words,
                       const std::string& where) {
        for (const auto& word : words)
            EXPECT_EQ(text.find(word), std::string::npos) << word << " in " << where;
    }

    QTemporaryDir place;
    fs::path root;
    std::string shop;
    std::unique_ptr<test::CaughtErrors> caught;
    std::unique_ptr<Desk> desk;
    RecordsDesk* records = nullptr;
    ui::JobCard card;
    std::vector<std::string> details; ///< of the errors that were made on purpose
};

void PersonalData::fillEveryField() {
    openTheJob();
    ASSERT_TRUE(card.customer.has_value());
    const auto filled = ask([card = card, root = root](storage::Shop& open) -> core::Result<void> {
        core::Customer customer = *card.customer;
        customer.name = "Qanaryna QANWELLS";
        customer.phones = {"5550777319"};
        customer.emails = {"qanmail@example.org"};
        customer.bestTime = "QANBEST";
        customer.note = "QANNOTE";
        customer.doNotCall = false;
        core::Vehicle vehicle = card.vehicle;
        vehicle.vin = "0TK4RM27XKP042788"; // invented, its check digit right
        vehicle.plate = "QANPLATE";
        vehicle.note = "QANVEHICLE";
        core::Job job = card.job;
        job.repairOrder = "ZOXORDER";
        job.concern = "QANCONCERN";
        job.cause = "QANCAUSE";
        job.correction = "QANFIX";
        job.lines.push_back("ZOXLINE");
        if (!job.parts.empty())
            job.parts[0].lot = "ZOXLOT";
        if (auto saved = open.jobs().save({job, vehicle, customer}); !saved)
            return core::failureOf(saved);
        core::FollowUp told;
        told.job = job.id;
        told.date = core::addDays(*job.delivered, 1);
        told.outcome = core::FollowUpOutcome::NoAnswer;
        told.note = "QANCALLED";
        if (auto saved = open.followUps().save(told); !saved)
            return core::failureOf(saved);
        std::ofstream(root / "photo.png", std::ios::binary) << "\x89PNG\r\n\x1A\nQANPHOTO in the file itself";
        if (auto added = storage::attachmentsOf(open).add(job.id, root / "photo.png", "QANPHOTO.png"); !added)
            return core::failureOf(added);
        fs::remove(root / "photo.png");
        core::Staff person;
        person.name = "ZOXSTAFF";
        if (auto saved = open.staff().save(person); !saved)
            return core::failureOf(saved);
        core::PartNumber part;
        part.number = "ZOXSHELF";
        part.supplier = "ZOXSUPPLIER";
        if (auto saved = open.shelf().save(part); !saved)
            return core::failureOf(saved);
        return {};
    });
    ASSERT_TRUE(filled.has_value()) << filled.error().detail;
    desk->database().announceChange();
    settle();
}

void PersonalData::typeWithoutSaving() {
    // In the Bay, at the Counter, on the Shelf: each is kept as a draft.
    openTheJob();
    auto* form = find<ui::BayRoom>()->sheet()->form();
    auto typed = form->card();
    typed.job.concern = "QANTYPED";
    form->setCard(form->stored(), typed);
    emit find<ui::BayRoom>()->sheet()->edited();
    settle();
    desk->window()->showRoom(QStringLiteral("shelf"));
    auto* shelf = find<ui::ShelfRoom>();
    shelf->openRecord(ui::ShelfSection::Parts, desk->session().shelf()->parts.front().id.uuid);
    QTest::keyClicks(find<ui::DetailPane>()->form()->findChild<QLineEdit*>(QStringLiteral("supplier")),
                     QStringLiteral("ZOXTYPED"));
    settle();
    ASSERT_TRUE(ask([job = card.job.id](storage::Shop& open) {
                    return open.drafts().keep("call/" + core::toString(job.uuid),
                                              "{\"note\":\"QANCALLTYPED\"}");
                }).has_value());
    QTest::qWait(700);
    settle();
}

void PersonalData::makeErrors() {
    const auto stale = card;
    wrong([stale](storage::Shop& open) { // a conflict
        auto customer = *stale.customer;
        customer.revision -= 1;
        customer.note = "QANNOTE";
        return open.customers().save(customer);
    });
    wrong([stale](storage::Shop& open) { // the VIN is another's
        auto twin = stale.vehicle;
        twin.id = {};
        twin.revision = 0;
        twin.note = "QANVEHICLE";
        return open.vehicles().save(twin);
    });
    wrong([stale](storage::Shop& open) {
        auto bad = stale.job;
        bad.revision = 99;
        bad.correction = "QANFIX";
        return open.jobs().save({bad, {}, {}});
    });
    wrong([stale](storage::Shop& open) { // a part that is not there
        auto bad = stale.job;
        bad.concern = "QANCONCERN";
        bad.parts.push_back({core::PartNumberId{{{7}}}, {}, "ZOXLOT", 1, {}});
        return open.jobs().save({bad, {}, {}});
    });
    wrong([stale](storage::Shop& open) { // text that is none
        auto customer = *stale.customer;
        customer.note = "QANNOTE \xED\xA0\x80";
        return open.customers().save(customer);
    });
    wrong([stale, root = root](storage::Shop& open) {
        return storage::attachmentsOf(open).add(stale.job.id, root / "Qanaryna.png", "QANPHOTO.png");
    });
    const auto imported = ask([](storage::Shop& open) {
        return storage::importRecords(
            open, storage::RecordFile::Vehicles,
            storage::bytesOf("vin,plate,customer\n0TK4RM27XKP042788,QANPLATE,Qanaryna\nx,y\n"), "book.csv",
            {});
    });
    if (!imported)
        details.push_back(imported.error().detail);
    else
        for (const auto& bad : imported->bad)
            details.push_back(bad.what);
    if (!GetParam())
        return;
    // The server cuts a save off in the middle.
    const std::string database = shop.substr(shop.rfind('/') + 1);
    wrong([stale, database](storage::Shop& open) {
        return open.together([&]() -> core::Result<void> {
            auto customer = *stale.customer;
            customer.note = "QANNOTE cut";
            if (auto saved = open.customers().save(customer); !saved)
                return core::failureOf(saved);
            test::PostgresqlServer::shared().ask(
                database, "SELECT count(pg_terminate_backend(pid)) FROM pg_stat_activity WHERE datname = "
                          "current_database() AND application_name = 'milehold records'");
            auto again = open.customers().save(customer);
            return again ? core::Result<void>() : core::Result<void>(core::failureOf(again));
        });
    });
    settle();
}

void PersonalData::forget() {
    desk->window()->showRoom(QStringLiteral("bay"));
    openTheJob();
    records->forgetCustomer();
    auto* asked = dialog<ui::ForgetDialog>();
    ASSERT_NE(asked, nullptr);
    EXPECT_TRUE(tests::keepPictures(*asked, QStringLiteral("forget"), asked->size()));
    ui::theme::apply(*qApp, ui::Scheme::Light);
    EXPECT_FALSE(asked->findChild<QPushButton*>(QStringLiteral("forget"))->isEnabled());
    const auto scope =
        ask([id = card.customer->id](storage::Shop& open) { return storage::whatForgettingTakes(open, id); });
    ASSERT_TRUE(scope.has_value());
    EXPECT_EQ(asked->findChild<QLabel*>(QStringLiteral("inWork")) != nullptr, scope->jobsInWork > 0);
    // What stays, and until when, is said for where this shop lies.
    EXPECT_EQ(asked->findChild<QLabel*>(QStringLiteral("backups"))
                  ->text()
                  .contains(QStringLiteral("write-ahead log")),
              GetParam());
    asked->findChild<QCheckBox*>(QStringLiteral("sure"))->setChecked(true);
    asked->findChild<QPushButton*>(QStringLiteral("forget"))->click();
    settle();
    EXPECT_FALSE(find<ui::BayRoom>()->isSheetOpen()); // what was typed on it must not come back as a draft
    const auto nobody =
        ask([id = card.customer->id](storage::Shop& open) { return open.customers().find(id); });
    ASSERT_TRUE(nobody.has_value());
    EXPECT_EQ(nobody->name, "Forgotten on request");
}

TEST_P(PersonalData, LeavesTheRecordsNowhereInARunWithErrorsAndAForgetting) {
    fillEveryField();
    typeWithoutSaving();
    makeErrors();
    for (const auto* room : {"counter", "office", "shelf", "bay"}) {
        desk->window()->showRoom(QString::fromLatin1(room));
        settle();
    }
    openTheJob();
    records->showHistory();
    auto* history = dialog<ui::HistoryDialog>();
    ASSERT_NE(history, nullptr);
    history->close();
    const fs::path before = root / "before.json";
    records->writeSupportFile(QString::fromStdString(before.string()));
    settle();
    expectNowhere(bytesOf(before), kOfTheCustomer, "the file for support");
    expectNowhere(bytesOf(before), kOfTheShop, "the file for support");
    EXPECT_GT(bytesOf(before).size(), 10'000U);
    forget();
    const fs::path after = root / "after.json";
    records->writeSupportFile(QString::fromStdString(after.string()));
    settle();
    expectNowhere(bytesOf(after), kOfTheCustomer, "the file for support");

    const std::string errors = caught->end();
    expectNowhere(errors, kOfTheCustomer, "standard error");
    expectNowhere(errors, kOfTheShop, "standard error");
    EXPECT_GE(details.size(), 6U);
    for (const auto& detail : details) {
        expectNowhere(detail, kOfTheCustomer, "an error's text");
        expectNowhere(detail, kOfTheShop, "an error's text");
    }
    // The database with its journals, the logs, and what a station keeps of its own; backups hold them until
    // they expire.
    int files = 0;
    const auto look = [&](const fs::path& below) {
        for (const auto& entry : fs::recursive_directory_iterator(below)) {
            if (!entry.is_regular_file())
                continue;
            ++files;
            expectNowhere(bytesOf(entry.path()), kOfTheCustomer, entry.path().string());
        }
    };
    if (!GetParam()) {
        look(fs::path(shop) / "store");
        look(fs::path(shop) / "logs");
        for (const auto& entry : fs::recursive_directory_iterator(fs::path(shop) / "logs"))
            if (entry.is_regular_file())
                expectNowhere(bytesOf(entry.path()), kOfTheShop, entry.path().string());
        EXPECT_GE(files, 1);
        return;
    }
    look(ask([](storage::Shop& open) -> core::Result<fs::path> { return open.folder(); }).value());
    EXPECT_GE(files, 1) << "the drafts of this station";
    const std::string log = bytesOf(test::PostgresqlServer::shared().log());
    expectNowhere(log, kOfTheCustomer, "the server's log");
    expectNowhere(log, kOfTheShop, "the server's log");
    EXPECT_NE(log.find("terminating connection"), std::string::npos) << "the log was kept";
    QProcess dump;
    dump.start(QStringLiteral("pg_dump"), {QString::fromStdString(shop)});
    ASSERT_TRUE(dump.waitForFinished(kPatienceMs));
    ASSERT_EQ(dump.exitCode(), 0) << dump.readAllStandardError().toStdString();
    const std::string all = dump.readAllStandardOutput().toStdString();
    EXPECT_NE(all.find("ZOXSHELF"), std::string::npos) << "the dump holds the shop";
    expectNowhere(all, kOfTheCustomer, "a dump of the server");
    EXPECT_EQ(all.find("51414e50484f544f"), std::string::npos) << "the photo's bytes, as a dump writes them";
}

INSTANTIATE_TEST_SUITE_P(Engines, PersonalData, testing::Bool(), [](const auto& engine) {
    return std::string(engine.param ? "OnServer" : "InFolder");
});

} // namespace
} // namespace milehold::app
