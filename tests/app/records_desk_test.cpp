// SPDX-License-Identifier: GPL-3.0-or-later
// History, undo, photos, tables and the file for support, from the whole window.
#include "app/desktop/desk.h"
#include "app/desktop/exchange_controller.h"
#include "app/desktop/records_desk.h"
#include "sample-shop/sample_shop.h"
#include "storage/attachment_store.h"
#include "storage/shop.h"
#include "tests/support/picture.h"
#include "ui/bay/bay_room.h"
#include "ui/records/attachments_dialog.h"
#include "ui/records/export_dialog.h"
#include "ui/records/history_dialog.h"
#include "ui/records/import_dialog.h"
#include "ui/shell/main_window.h"
#include "ui/shell/message_bar.h"
#include "ui/shell/top_bar.h"
#include "ui/theme/theme.h"
#include "ui/widgets/record_table.h"
#include "ui/widgets/text.h"

#include <QAction>
#include <QApplication>
#include <QCheckBox>
#include <QLabel>
#include <QMenu>
#include <QPushButton>
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

class RecordsDeskTest : public testing::Test {
protected:
    void SetUp() override {
        QStandardPaths::setTestModeEnabled(true);
        ASSERT_TRUE(place.isValid());
        root = fs::path(place.path().toStdString());
        shop = root / "Canary.milehold";
        sample::SampleOptions options;
        options.jobs = 40;
        const auto book = sample::generate(options);
        ASSERT_TRUE(book.has_value());
        auto made = storage::Shop::create(shop, book->settings);
        ASSERT_TRUE(made.has_value());
        ASSERT_TRUE(sample::write(*book, **made).has_value());
        ASSERT_TRUE((*made)->close().has_value());
        today = options.endsOn;
        start();
    }
    void start() {
        desk = std::make_unique<Desk>([day = today] { return day; });
        bool opened = false;
        QObject::connect(desk.get(), &Desk::opened, desk.get(), [&] { opened = true; });
        desk->openShop(QString::fromStdString(shop.string()));
        ASSERT_TRUE(QTest::qWaitFor([&] { return opened; }, kPatienceMs));
        settle();
        records = desk->records();
        desk->window()->activateWindow();
        ASSERT_TRUE(QTest::qWaitForWindowActive(desk->window()));
    }
    void settle() {
        ASSERT_TRUE(QTest::qWaitFor([&] { return !desk->isBusy(); }, kPatienceMs));
        QTest::qWait(20);
        ASSERT_TRUE(QTest::qWaitFor([&] { return !desk->isBusy(); }, kPatienceMs));
    }
    void openAJob() {
        desk->openNewestJob();
        settle();
        ASSERT_TRUE(bay()->isSheetOpen());
    }
    ui::BayRoom* bay() const { return desk->window()->findChild<ui::BayRoom*>(); }
    template <class Dialog> Dialog* dialog() {
        Dialog* found = nullptr;
        EXPECT_TRUE(QTest::qWaitFor(
            [&] { return (found = desk->window()->findChild<Dialog*>()) != nullptr && found->isVisible(); },
            kPatienceMs));
        return found;
    }
    template <class Work> auto ask(Work work) {
        std::optional<std::invoke_result_t<Work, storage::Shop&>> answer;
        desk->database().ask(desk.get(), std::move(work), [&](auto given) { answer = std::move(given); });
        EXPECT_TRUE(QTest::qWaitFor([&] { return answer.has_value(); }, kPatienceMs));
        return std::move(*answer);
    }
    /// A picture of a dialog by day and by night, for eyes.
    void picture(QWidget* widget, const QString& name) {
        EXPECT_TRUE(tests::keepPictures(*widget, name, widget->size()));
        ui::theme::apply(*qApp, ui::Scheme::Light);
    }

    QTemporaryDir place;
    fs::path root;
    fs::path shop;
    core::Date today;
    std::unique_ptr<Desk> desk;
    RecordsDesk* records = nullptr;
};

TEST_F(RecordsDeskTest, ShowsWhoChangedWhatInTheOpenJobByKeyboard) {
    openAJob();
    const auto job = bay()->sheet()->form()->stored().job;
    EXPECT_TRUE(ask([job](storage::Shop& open) {
                    core::Job edited = job;
                    edited.correction = "Chain and guides fitted";
                    return open.jobs().save({edited, {}, {}});
                }).has_value());
    QTest::keyClick(desk->window(), Qt::Key_H, Qt::ControlModifier);
    auto* history = dialog<ui::HistoryDialog>();
    ASSERT_NE(history, nullptr);
    const auto* rows = history->table()->records();
    ASSERT_GT(rows->rowCount(), 5);
    EXPECT_EQ(rows->index(0, 3).data().toString(), QStringLiteral("Correction"));
    EXPECT_EQ(rows->index(0, 5).data().toString(), QStringLiteral("Chain and guides fitted"));
    EXPECT_EQ(rows->index(0, 4).data().toString(), ui::toText(job.correction));
    picture(history, QStringLiteral("history"));
    history->showRecord(1);
    EXPECT_GT(history->table()->records()->rowCount(), 0);
}

TEST_F(RecordsDeskTest, TakesASaveBackAfterTheProgramWasStartedAnew) {
    openAJob();
    const auto job = bay()->sheet()->form()->stored().job;
    EXPECT_TRUE(ask([job](storage::Shop& open) {
                    core::Job edited = job;
                    edited.correction = "Mistyped";
                    return open.jobs().save({edited, {}, {}});
                }).has_value());
    desk.reset();
    start();
    openAJob();
    QTest::keyClick(desk->window(), Qt::Key_Z, Qt::ControlModifier);
    settle();
    EXPECT_EQ(ask([&](storage::Shop& open) { return open.jobs().find(job.id); })->correction, job.correction);
    QTest::keyClick(desk->window(), Qt::Key_Z, Qt::ControlModifier | Qt::ShiftModifier);
    settle();
    EXPECT_EQ(ask([&](storage::Shop& open) { return open.jobs().find(job.id); })->correction, "Mistyped");
}

TEST_F(RecordsDeskTest, KeepsPhotosOfAJobAndSaysWhyNotOthers) {
    openAJob();
    const auto job = bay()->sheet()->form()->stored().job.id;
    const fs::path photo = root / "chain.png";
    std::ofstream(photo, std::ios::binary) << "\x89PNG\r\n\x1A\nphoto";
    const fs::path text = root / "notes.txt";
    std::ofstream(text) << "words";
    QTest::keyClick(desk->window(), Qt::Key_A, Qt::ControlModifier | Qt::ShiftModifier);
    auto* files = dialog<ui::AttachmentsDialog>();
    ASSERT_NE(files, nullptr);
    emit files->filesDropped({QString::fromStdString(photo.string()), QString::fromStdString(text.string())});
    settle();
    const auto kept = ask([job](storage::Shop& open) { return storage::attachmentsOf(open).ofJob(job); });
    ASSERT_TRUE(kept.has_value());
    ASSERT_EQ(kept->size(), 1U);
    EXPECT_EQ(kept->front().name, "chain.png");
    auto* table = files->findChild<ui::RecordTable*>();
    EXPECT_EQ(table->records()->rowCount(), 1);
    bool said = false;
    for (const auto* label : files->findChildren<QLabel*>())
        said |= label->text().startsWith(QStringLiteral("1 file added")) &&
                label->text().contains(QStringLiteral("Not added. Photos, sound"));
    EXPECT_TRUE(said);
    picture(files, QStringLiteral("attachments"));
    emit files->removeWanted(kept->front().id);
    settle();
    EXPECT_TRUE(ask([job](storage::Shop& open) { return storage::attachmentsOf(open).ofJob(job); })->empty());
}

TEST_F(RecordsDeskTest, ImportsATableOnlyAfterATrialAndAddsNothingTwice) {
    const fs::path table = root / "clients.csv";
    std::ofstream(table) << "Client,Phone number,Shoe size\nFenna Kinglake,555 0142,43\n,555 0143,40\n";
    ExchangeController exchange(*desk->window(), desk->database(), desk->session());
    auto* import = exchange.importTable();
    exchange.chooseFile(QString::fromStdString(table.string()));
    EXPECT_EQ(import->columns(), (QStringList{QStringLiteral("name"), QStringLiteral("phones"), QString()}));
    const auto button = [&](const char* text) {
        for (auto* one : import->findChildren<QPushButton*>())
            if (one->text() == QLatin1String(text))
                return one;
        return static_cast<QPushButton*>(nullptr);
    };
    EXPECT_FALSE(button("&Import")->isEnabled());
    button("&Try it")->click();
    settle();
    EXPECT_FALSE(button("&Import")->isEnabled()); // one row is bad, and all or none was chosen
    EXPECT_EQ(import->findChild<ui::RecordTable*>()->records()->rowCount(), 1);
    picture(import, QStringLiteral("import"));
    for (auto* box : import->findChildren<QCheckBox*>())
        if (box->text().contains(QStringLiteral("good rows")))
            box->setChecked(true);
    ASSERT_TRUE(button("&Import")->isEnabled());
    const auto found = [&] {
        return ask([](storage::Shop& open) { return open.customers().search("Fenna", 5); })->size();
    };
    EXPECT_EQ(found(), 0U);
    button("&Import")->click();
    settle();
    EXPECT_EQ(found(), 1U);
    EXPECT_EQ(ask([](storage::Shop& open) { return open.backups(); })->front().reason,
              storage::BackupReason::BeforeImport);
    button("&Try it")->click();
    settle();
    button("&Import")->click();
    settle();
    EXPECT_EQ(found(), 1U);
}

TEST_F(RecordsDeskTest, ExportsWhatIsOnTheScreenAndEveryListAndLeavesPeopleOut) {
    ExchangeController exchange(*desk->window(), desk->database(), desk->session());
    desk->window()->showRoom(QStringLiteral("bay"));
    settle();
    auto* dialog = exchange.exportTable();
    picture(dialog, QStringLiteral("export"));
    EXPECT_FALSE(dialog->findChild<QCheckBox*>()->isEnabled()); // a list is what it shows
    exchange.exportTo(QString::fromStdString((root / "list.xlsx").string()), *dialog);
    settle();
    EXPECT_EQ(bytesOf(root / "list.xlsx").substr(0, 2), "PK");
    dialog->setWhat(ui::ExportDialog::What::Vehicles);
    EXPECT_FALSE(dialog->withPeople());
    exchange.exportTo(QString::fromStdString((root / "vehicles.xlsx").string()), *dialog);
    settle();
    EXPECT_EQ(bytesOf(root / "vehicles.xlsx").substr(0, 2), "PK");
    const auto newest = ask([](storage::Shop& open) { return open.changeLog().newest(1); });
    ASSERT_TRUE(newest.has_value());
    EXPECT_EQ(newest->front().action, storage::ChangeAction::Export);
    EXPECT_EQ(newest->front().table, "vehicles");
}

TEST_F(RecordsDeskTest, WritesAFileForSupportFromTheMenu) {
    bool offered = false;
    for (const auto* action : desk->window()->findChild<ui::TopBar*>()->moreMenu()->actions())
        offered = offered || action->text() == QStringLiteral("File for support…");
    EXPECT_TRUE(offered);
    auto* menu = desk->window()->findChild<ui::TopBar*>()->moreMenu();
    menu->resize(menu->sizeHint());
    picture(menu, QStringLiteral("more-menu"));
    menu->close();
    const fs::path file = root / "support.json";
    std::ofstream(file) << "there already, and may go";
    records->writeSupportFile(QString::fromStdString(file.string()));
    settle();
    const std::string text = bytesOf(file);
    EXPECT_EQ(text.substr(0, 1), "{");
    EXPECT_NE(text.find("\"milehold_support\":1"), std::string::npos);
    openAJob();
    const auto card = bay()->sheet()->form()->stored();
    ASSERT_TRUE(card.customer.has_value());
    EXPECT_EQ(text.find(card.customer->name), std::string::npos);
    EXPECT_NE(text.find(core::toString(card.job.id.uuid)), std::string::npos);
}

} // namespace
} // namespace milehold::app
