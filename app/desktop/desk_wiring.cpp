// SPDX-License-Identifier: GPL-3.0-or-later
// How the rooms of an open window are joined with the records and with one another.
#include "app/desktop/desk.h"
#include "app/desktop/desk_rooms.h"
#include "app/desktop/error_sentence.h"
#include "app/desktop/file_dialogs.h"
#include "app/desktop/vehicle_at_hand.h"
#include "storage/backup_shelf.h"
#include "storage/machine_clock.h"
#include "storage/shop.h"
#include "ui/bay/bay_room.h"
#include "ui/counter/calls_panel.h"
#include "ui/counter/counter_room.h"
#include "ui/office/office_room.h"
#include "ui/shelf/shelf_room.h"
#include "ui/shell/main_window.h"
#include "ui/shell/message_bar.h"
#include "ui/widgets/text.h"

#include <QDir>
#include <QShortcut>

namespace milehold::app {

void Desk::prepareWindow() {
    if (next_)
        return;
    next_ = std::make_unique<ui::MainWindow>();
    next_->addRoom(kBay, tr("Bay"), QStringLiteral("bay"), new ui::BayRoom);
    next_->addRoom(kCounter, tr("Counter"), QStringLiteral("counter"), new ui::CounterRoom);
    next_->addRoom(kOffice, tr("Office"), QStringLiteral("office"), new ui::OfficeRoom);
    next_->addRoom(kShelf, tr("Shelf"), QStringLiteral("shelf"), new ui::ShelfRoom);
}

void Desk::wireRooms() {
    rooms_ = std::make_unique<Rooms>();
    auto* bay = window_->findChild<ui::BayRoom*>();
    auto* counter = window_->findChild<ui::CounterRoom*>();
    auto* office = window_->findChild<ui::OfficeRoom*>();
    auto* shelf = window_->findChild<ui::ShelfRoom*>();
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
    connect(rooms_->shelf.get(), &ShelfController::draftsFound, this, &Desk::offerShelfDrafts);
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

void Desk::offerShelfDrafts(const QStringList& names, const ui::ShelfRecord& newest) {
    const QString id = QStringLiteral("shelf-drafts");
    window_->messages()->show({id,
                               ui::MessageBar::Kind::NeedsYou,
                               tr("Typed on the Shelf and not saved: %1. It stands there as you left it.")
                                   .arg(names.join(QStringLiteral(", "))),
                               {tr("Show it")},
                               true});
    connect(window_->messages(), &ui::MessageBar::actionChosen, window_.get(),
            [this, id, newest](const QString& chosen, int) {
                if (chosen != id)
                    return;
                window_->messages()->remove(id);
                window_->showRoom(kShelf);
                window_->findChild<ui::ShelfRoom*>()->openRecord(ui::sectionOf(newest), ui::idOf(newest));
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
    connect(counter, &CounterController::openVehicle, rooms_->vehicle.get(), &VehicleController::open);
    connect(rooms_->calls.get(), &CallsController::showJobs, bay, &BayController::showJobs);
    connect(rooms_->office.get(), &OfficeController::showJobs, bay, &BayController::showJobs);
    connect(rooms_->office.get(), &OfficeController::openVehicle, bay, &BayController::openVehicle);
    connect(rooms_->office.get(), &OfficeController::logJobWanted, bay, &BayController::newJob);
    wireVehiclePage();
    connect(window_.get(), &ui::MainWindow::settingsWanted, this, [this] {
        window_->showRoom(kShelf);
        if (auto* shelf = window_->findChild<ui::ShelfRoom*>())
            shelf->showSection(ui::ShelfSection::Shop);
    });
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
    connect(page, &VehicleController::fileWanted, rooms_->records.get(), &RecordsDesk::openAttachment);
    connect(rooms_->calls.get(), &CallsController::vehiclePageWanted, page, &VehicleController::open);
    auto* keys = new QShortcut(QKeySequence(QStringLiteral("Ctrl+I")), window_.get());
    connect(keys, &QShortcut::activated, this, [this, page] {
        if (const auto vehicle = vehicleAtHand(*window_->room(window_->currentRoom())))
            page->open(*vehicle);
        else
            window_->setNote(tr("No vehicle is at hand: choose one first"));
    });
}

} // namespace milehold::app
