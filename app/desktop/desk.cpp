// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/desk.h"

#include "app/desktop/backup_controller.h"
#include "app/desktop/backup_list.h"
#include "app/desktop/bay_controller.h"
#include "app/desktop/calls_controller.h"
#include "app/desktop/care_controller.h"
#include "app/desktop/counter_controller.h"
#include "app/desktop/error_sentence.h"
#include "app/desktop/file_dialogs.h"
#include "app/desktop/office_controller.h"
#include "app/desktop/records_desk.h"
#include "app/desktop/search_controller.h"
#include "app/desktop/server_watch.h"
#include "app/desktop/shelf_controller.h"
#include "app/desktop/vehicle_at_hand.h"
#include "app/desktop/vehicle_controller.h"
#include "storage/backup_shelf.h"
#include "storage/server/server_address.h"
#include "storage/shop.h"
#include "ui/bay/bay_room.h"
#include "ui/counter/calls_panel.h"
#include "ui/counter/counter_room.h"
#include "ui/office/office_room.h"
#include "ui/shelf/shelf_room.h"
#include "ui/shell/main_window.h"
#include "ui/shell/message_bar.h"
#include "ui/start/start_page.h"
#include "ui/theme/theme.h"
#include "ui/widgets/text.h"

#include <QApplication>
#include <QDir>
#include <QFileInfo>
#include <QScreen>
#include <QShortcut>
#include <QStandardPaths>
#include <QSysInfo>
#include <QThreadPool>

#include <algorithm>

namespace milehold::app {

namespace {

const QString kBay = QStringLiteral("bay");
const QString kCounter = QStringLiteral("counter");
const QString kOffice = QStringLiteral("office");
const QString kShelf = QStringLiteral("shelf");

bool isOnServer(const QString& shop) {
    return storage::isServerAddress(shop.toStdString());
}

std::filesystem::path toPath(const QString& folder) {
    return std::filesystem::path(folder.toStdU16String());
}

} // namespace

struct Desk::Rooms {
    std::unique_ptr<SearchController> search;
    std::unique_ptr<RecordsDesk> records;
    std::unique_ptr<BackupController> backup; ///< these three are null for a shop on a server
    std::unique_ptr<BackupList> backups;
    std::unique_ptr<CareController> care;
    std::unique_ptr<ServerWatch> server;
    std::unique_ptr<BayController> bay;
    std::unique_ptr<CounterController> counter;
    std::unique_ptr<CallsController> calls;
    std::unique_ptr<OfficeController> office;
    std::unique_ptr<ShelfController> shelf;
    std::unique_ptr<VehicleController> vehicle;
};

Desk::Desk(std::function<core::Date()> today, QObject* parent)
    : QObject(parent), session_(std::move(today)), loader_(database_, session_), saves_(database_) {
    connect(&loader_, &SessionLoader::failed, this, [this](const core::Error& error) {
        if (window_)
            window_->messages()->show(
                {QStringLiteral("reading"), ui::MessageBar::Kind::Wrong, sentenceFor(error), {}, true});
    });
}

Desk::~Desk() {
    // Controllers refer to the window's rooms and to the database: they go first.
    rooms_.reset();
    window_.reset();
    start_.reset();
}

RecordsDesk* Desk::records() const {
    return rooms_ ? rooms_->records.get() : nullptr;
}

bool Desk::isBusy() const {
    return database_.isBusy() || QThreadPool::globalInstance()->activeThreadCount() > 0;
}

void Desk::showStart(const QString& trouble) {
    if (!start_) {
        start_ = std::make_unique<ui::StartPage>();
        start_->setWindowTitle(QStringLiteral("Milehold"));
        start_->resize(1040, 640);
        start_->setHome(QStandardPaths::writableLocation(QStandardPaths::DocumentsLocation));
        connect(start_.get(), &ui::StartPage::openWanted, this, &Desk::openShop);
        connect(start_.get(), &ui::StartPage::createWanted, this, &Desk::createShop);
        connect(start_.get(), &ui::StartPage::restoreWanted, this, &Desk::restoreNewest);
        connect(start_.get(), &ui::StartPage::salvageWanted, this, &Desk::salvageShop);
        connect(start_.get(), &ui::StartPage::lookWanted, this, [this] {
            if (good_ && *good_)
                lookAtBackup(**good_);
        });
        connect(start_.get(), &ui::StartPage::browseWanted, this, [this] {
            const QString folder = askForFolder(start_.get(), tr("Open a shop's folder"), QDir::homePath());
            if (!folder.isEmpty())
                openShop(folder);
        });
        connect(start_.get(), &ui::StartPage::browseForHomeWanted, this, [this] {
            const QString folder =
                askForFolder(start_.get(), tr("Where the new shop is kept"), QDir::homePath());
            if (!folder.isEmpty())
                start_->setHomePicked(folder);
        });
    }
    start_->setRecent(desk_.recentShops());
    start_->setTrouble(trouble);
    start_->setBusy({});
    start_->show();
}

void Desk::openShop(const QString& folder) {
    open(folder, [path = toPath(folder)] { return storage::Shop::open(path); });
}

void Desk::createShop(const QString& folder, const core::ShopSettings& settings) {
    QDir().mkpath(QFileInfo(folder).path()); // a home may have no folder for documents yet
    open(folder, [path = toPath(folder), settings] { return storage::Shop::create(path, settings); });
}

void Desk::open(const QString& folder, Database::Opener opener, const QString& what) {
    folder_ = isOnServer(folder) ? folder : QDir(folder).absolutePath();
    later_.clear();
    if (start_)
        start_->setBusy(what.isEmpty() ? tr("Checking and opening the shop") : what);
    database_.open(withBackup(std::move(opener), folder_), this, [this](const core::Result<void>& outcome) {
        if (!outcome) {
            emit failedToOpen(outcome.error());
            tellTrouble(outcome.error());
            return;
        }
        desk_.addRecentShop(folder_);
        connect(&loader_, &SessionLoader::loaded, this, &Desk::makeWindow, Qt::SingleShotConnection);
        loader_.load();
    });
}

void Desk::makeWindow() {
    window_ = std::make_unique<ui::MainWindow>();
    window_->setShopName(ui::toText(session_.settings().name));
    if (const auto unit = desk_.unit(folder_))
        session_.setUnit(*unit);
    window_->setUnit(session_.unit());
    window_->setScheme(ui::theme::scheme());
    wireRooms();
    showPeople();
    connect(&session_, &Session::staffChanged, this, &Desk::showPeople);
    connect(&session_, &Session::settingsChanged, this,
            [this] { window_->setShopName(ui::toText(session_.settings().name)); });
    connect(&session_, &Session::unitChanged, this, [this] { window_->setUnit(session_.unit()); });
    connect(window_.get(), &ui::MainWindow::unitChosen, this, [this](core::DistanceUnit unit) {
        desk_.setUnit(folder_, unit);
        session_.setUnit(unit);
    });
    connect(window_.get(), &ui::MainWindow::personChosen, this, &Desk::choosePerson);
    connect(window_.get(), &ui::MainWindow::schemeChosen, this, [this](ui::Scheme scheme) {
        desk_.setScheme(scheme);
        ui::theme::apply(*qApp, scheme);
        window_->setScheme(scheme);
    });
    connect(window_.get(), &ui::MainWindow::undoWanted, &saves_, &SaveHistory::undo);
    connect(&saves_, &SaveHistory::changed, this, [this] { window_->setUndoText(saves_.undoText()); });
    connect(&saves_, &SaveHistory::undone, this,
            [this](const QString& what) { window_->setNote(tr("Taken back: %1").arg(what)); });
    connect(&saves_, &SaveHistory::failed, this, [this](const core::Error& error) {
        window_->messages()->show({QStringLiteral("undo"),
                                   ui::MessageBar::Kind::Wrong,
                                   tr("Not taken back. %1").arg(sentenceFor(error)),
                                   {},
                                   true});
    });
    connect(window_.get(), &ui::MainWindow::closing, this, &Desk::closeDown);

    if (!window_->restoreGeometry(desk_.geometry()))
        window_->resize(1280, 800);
    // On a smaller screen, or a laptop's 1280 by 800 with a frame around it, the edges would be off the
    // screen.
    const QSize room = window_->screen()->availableSize();
    constexpr int kFrame = 48;
    if (room.width() >= window_->minimumWidth() &&
        (room.width() < window_->width() || room.height() < window_->height() + kFrame))
        window_->showMaximized();
    else
        window_->show();
    window_->enterRoom();
    if (!later_.isEmpty())
        window_->messages()->show(
            {QStringLiteral("state"), ui::MessageBar::Kind::NeedsYou, later_, {}, false});
    if (start_)
        start_->hide();
    emit opened();
}

void Desk::wireRooms() {
    rooms_ = std::make_unique<Rooms>();
    auto* bay = new ui::BayRoom;
    auto* counter = new ui::CounterRoom;
    auto* office = new ui::OfficeRoom;
    auto* shelf = new ui::ShelfRoom;
    window_->addRoom(kBay, tr("Bay"), QStringLiteral("bay"), bay);
    window_->addRoom(kCounter, tr("Counter"), QStringLiteral("counter"), counter);
    window_->addRoom(kOffice, tr("Office"), QStringLiteral("office"), office);
    window_->addRoom(kShelf, tr("Shelf"), QStringLiteral("shelf"), shelf);
    rooms_->bay = std::make_unique<BayController>(*bay, database_, session_);
    rooms_->counter = std::make_unique<CounterController>(*counter, database_, session_);
    rooms_->calls = std::make_unique<CallsController>(*counter->calls(), database_, session_);
    rooms_->office = std::make_unique<OfficeController>(*office, database_, session_);
    rooms_->shelf = std::make_unique<ShelfController>(*shelf, database_, session_);
    rooms_->vehicle = std::make_unique<VehicleController>(*window_, database_, session_);
    rooms_->search = std::make_unique<SearchController>(*window_->search(), database_);
    if (isOnServer(folder_)) {
        window_->setBackupText(tr("Backups: on the server"), false);
    } else {
        rooms_->backup = std::make_unique<BackupController>(*window_, database_);
        rooms_->backups = std::make_unique<BackupList>(*window_, database_, [this] {
            return askForFolder(window_.get(), tr("Where copies go: a folder on another disk"),
                                QDir::homePath());
        });
        rooms_->care = std::make_unique<CareController>(*window_, database_, &storage::machineNow);
    }
    rooms_->records = std::make_unique<RecordsDesk>(*window_, database_, session_, saves_);
    wireNotes();
    if (rooms_->backups)
        wireBackups();
    wireWays();
}

void Desk::wireNotes() {
    auto* window = window_.get();
    connect(rooms_->bay.get(), &BayController::said, window, &ui::MainWindow::setNote);
    connect(rooms_->counter.get(), &CounterController::said, window, &ui::MainWindow::setNote);
    connect(rooms_->calls.get(), &CallsController::said, window, &ui::MainWindow::setNote);
    connect(rooms_->office.get(), &OfficeController::said, window, &ui::MainWindow::setNote);
    connect(rooms_->shelf.get(), &ShelfController::said, window, &ui::MainWindow::setNote);
    connect(rooms_->records.get(), &RecordsDesk::forgetting, rooms_->bay.get(), &BayController::dropSheet);
    connect(rooms_->records.get(), &RecordsDesk::said, window, &ui::MainWindow::setNote);
    connect(rooms_->records.get(), &RecordsDesk::needsAttention, this, [this](const QString& sentence) {
        window_->messages()->show(
            {QStringLiteral("records"), ui::MessageBar::Kind::NeedsYou, sentence, {}, true});
    });
    connect(rooms_->vehicle.get(), &VehicleController::said, window, &ui::MainWindow::setNote);
    connect(rooms_->bay.get(), &BayController::needsAttention, this, [this](const QString& sentence) {
        window_->messages()->show(
            {QStringLiteral("bay"), ui::MessageBar::Kind::NeedsYou, sentence, {}, true});
    });
    connect(rooms_->search.get(), &SearchController::failed, this,
            [this](const core::Error& error) { window_->setNote(sentenceFor(error)); });
    wireServer();
    if (!rooms_->backup)
        return;
    connect(rooms_->backup.get(), &BackupController::said, window, &ui::MainWindow::setNote);
    connect(rooms_->backup.get(), &BackupController::failed, this, [this](const core::Error& error) {
        window_->messages()->show({QStringLiteral("backup"),
                                   ui::MessageBar::Kind::Wrong,
                                   tr("The backup failed. %1").arg(sentenceFor(error)),
                                   {},
                                   true});
    });
}

void Desk::wireServer() {
    rooms_->server = std::make_unique<ServerWatch>(database_);
    connect(rooms_->server.get(), &ServerWatch::reachable, window_.get(), [this](bool answers) {
        const QString id = QStringLiteral("offline");
        if (answers) {
            window_->messages()->remove(id);
            window_->setNote(tr("The server answers again; the lists are being read anew."));
            return;
        }
        window_->setNote(tr("Offline, read-only"));
        window_->messages()->show(
            {id,
             ui::MessageBar::Kind::Wrong,
             tr("Offline, read-only: the server does not answer. What is typed is kept at this "
                "station; it can be saved when the connection is back, which is tried every "
                "few seconds."),
             {},
             false});
    });
}

void Desk::wireBackups() {
    auto* list = rooms_->backups.get();
    auto* care = rooms_->care.get();
    connect(list, &BackupList::said, window_.get(), &ui::MainWindow::setNote);
    connect(list, &BackupList::failed, this,
            [this](const core::Error& error) { window_->setNote(sentenceFor(error)); });
    connect(list, &BackupList::cared, care, &CareController::refresh);
    connect(list, &BackupList::cared, rooms_->backup.get(), &BackupController::refresh);
    connect(care, &CareController::copyWanted, list, &BackupList::copyNewest);
    connect(care, &CareController::testWanted, list, &BackupList::testNewest);
    // Queued: the list goes with its window.
    connect(list, &BackupList::restoreWanted, this, &Desk::restoreChosen, Qt::QueuedConnection);
    connect(list, &BackupList::lookWanted, this, &Desk::lookAtChosen, Qt::QueuedConnection);
    connect(rooms_->backup.get(), &BackupController::alarmed, this, [this](const QString& why) {
        window_->messages()->show(
            {QStringLiteral("backup-alarm"),
             ui::MessageBar::Kind::Wrong,
             tr("Look at the shop before you go on: %1. Older backups are kept meanwhile.").arg(why),
             {},
             true});
    });
}

void Desk::wireWays() {
    auto* bay = rooms_->bay.get();
    auto* counter = rooms_->counter.get();
    const auto toBay = [this] { window_->showRoom(kBay); };
    connect(bay, &BayController::roomWanted, this, toBay);
    // What a person looks up is opened where they stand: at the counter for a quote, anywhere else for a job.
    connect(rooms_->search.get(), &SearchController::vehicleChosen, this, [=, this](core::VehicleId id) {
        if (window_->currentRoom() == kCounter)
            counter->quoteVehicle(id);
        else
            bay->openVehicle(id);
    });
    connect(rooms_->search.get(), &SearchController::unknownTyped, bay,
            [bay](const QString& text) { bay->startJobFor(text); });
    connect(bay, &BayController::quoteWanted, this, [=, this](core::VehicleId id) {
        window_->showRoom(kCounter);
        counter->quoteVehicle(id);
    });
    connect(counter, &CounterController::showJobs, bay, &BayController::showJobs);
    connect(counter, &CounterController::openVehicle, bay, &BayController::openVehicle);
    connect(rooms_->calls.get(), &CallsController::showJobs, bay, &BayController::showJobs);
    connect(rooms_->office.get(), &OfficeController::showJobs, bay, &BayController::showJobs);
    connect(rooms_->office.get(), &OfficeController::openVehicle, bay, &BayController::openVehicle);
    connect(rooms_->office.get(), &OfficeController::logJobWanted, bay, &BayController::newJob);
    wireVehiclePage();
    connect(window_.get(), &ui::MainWindow::settingsWanted, this, [this] { window_->showRoom(kShelf); });
}

void Desk::wireVehiclePage() {
    auto* page = rooms_->vehicle.get();
    auto* bay = rooms_->bay.get();
    auto* counter = rooms_->counter.get();
    connect(page, &VehicleController::jobWanted, bay, &BayController::openJob);
    connect(page, &VehicleController::newJobWanted, bay, &BayController::openVehicle);
    connect(page, &VehicleController::quoteWanted, this, [=, this](core::VehicleId id) {
        window_->showRoom(kCounter);
        counter->quoteVehicle(id);
    });
    connect(rooms_->calls.get(), &CallsController::vehiclePageWanted, page, &VehicleController::open);
    auto* keys = new QShortcut(QKeySequence(QStringLiteral("Ctrl+I")), window_.get());
    connect(keys, &QShortcut::activated, this, [this, page] {
        if (const auto vehicle = vehicleAtHand(*window_->room(window_->currentRoom())))
            page->open(*vehicle);
        else
            window_->setNote(tr("No vehicle is at hand: choose one first"));
    });
}

namespace {

const core::LifeRecord* newestOf(const Session::LifeRecords& lives) {
    const auto newest = std::max_element(
        lives.begin(), lives.end(), [](const auto& a, const auto& b) { return a.jobNumber < b.jobNumber; });
    return newest == lives.end() ? nullptr : &*newest;
}

} // namespace

void Desk::openNewestJob() {
    if (const auto* newest = newestOf(*session_.lives()))
        rooms_->bay->openJob(newest->life.job);
}

ui::QuotePageDialog* Desk::openQuotePage() {
    return rooms_->counter->openPage();
}

void Desk::showOfficeTopic(ui::OwnerTopic topic) {
    if (auto* office = window_->findChild<ui::OfficeRoom*>())
        office->showTopic(topic);
}

void Desk::quoteNewestVehicle() {
    if (const auto* newest = newestOf(*session_.lives()))
        rooms_->counter->quoteVehicle(newest->life.vehicle);
}

void Desk::showPeople() {
    QStringList names;
    for (const auto& person : session_.staff())
        if (person.active)
            names.append(ui::toText(person.name));
    const QString known = desk_.person(folder_);
    const QString current = names.contains(known) ? known : QString();
    if (current.isEmpty())
        window_->setPeople(names, {});
    else
        choosePerson(current);
}

void Desk::choosePerson(const QString& name) {
    desk_.setPerson(folder_, name);
    QStringList names;
    for (const auto& person : session_.staff())
        if (person.active)
            names.append(ui::toText(person.name));
    window_->setPeople(names, names.contains(name) ? name : QString());
    const std::string wanted = ui::toUtf8(name);
    for (const auto& person : session_.staff()) {
        if (person.name != wanted)
            continue;
        session_.setWho(person.id);
        const storage::Who who{person.id, QSysInfo::machineHostName().toStdString()};
        database_.ask(
            this,
            [who](storage::Shop& shop) -> core::Result<void> {
                shop.setWho(who);
                return {};
            },
            [](const core::Result<void>&) {});
        return;
    }
    session_.setWho(std::nullopt);
}

void Desk::closeDown(bool* allow) {
    desk_.setGeometry(window_->saveGeometry());
    if (closed_)
        return;
    keepDrafts();
    // The closing backup is made behind the window, which goes when it is done.
    *allow = false;
    window_->setWork({{2, tr("Backing up and closing the shop"), -1, false}});
    window_->setEnabled(false);
    database_.close(this, [this](const core::Result<void>& outcome) {
        closed_ = true;
        if (!outcome) {
            window_->setEnabled(true);
            window_->setWork({});
            window_->messages()->show({QStringLiteral("closing"),
                                       ui::MessageBar::Kind::Wrong,
                                       tr("The shop is closed and everything is saved, but its backup "
                                          "failed. %1 Close again to leave.")
                                           .arg(sentenceFor(outcome.error())),
                                       {},
                                       false});
            return;
        }
        window_->close();
    });
}

void Desk::keepDrafts() {
    rooms_->bay->keepDraft();
    rooms_->calls->keepDraft();
}

void Desk::dropWindow() {
    disconnect(&session_, nullptr, this, nullptr);
    disconnect(&saves_, nullptr, this, nullptr);
    saves_.clear();
    rooms_.reset();
    showStart();
    window_->hide();
    // Not at once: what asked for it may be a button of this very window.
    window_.release()->deleteLater();
}

} // namespace milehold::app
