// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/desk.h"

#include "app/desktop/desk_rooms.h"
#include "app/desktop/error_sentence.h"
#include "app/desktop/file_dialogs.h"
#include "app/desktop/vehicle_at_hand.h"
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

std::filesystem::path toPath(const QString& folder) {
    return std::filesystem::path(folder.toStdU16String());
}

} // namespace

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
    // Queued: the start page says first that it is busy.
    QMetaObject::invokeMethod(this, &Desk::prepareWindow, Qt::QueuedConnection);
}

void Desk::makeWindow() {
    prepareWindow();
    window_ = std::move(next_);
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

QStringList Desk::activePeople() const {
    QStringList names;
    for (const auto& person : session_.staff())
        if (person.active)
            names.append(ui::toText(person.name));
    return names;
}

void Desk::showPeople() {
    showPerson(desk_.person(folder_));
}

void Desk::choosePerson(const QString& name) {
    desk_.setPerson(folder_, name);
    showPerson(name);
}

void Desk::showPerson(const QString& name) {
    const QStringList names = activePeople();
    window_->setPeople(names, names.contains(name) ? name : QString());
    std::optional<core::StaffId> chosen;
    for (const auto& person : session_.staff())
        if (person.active && !chosen && ui::toText(person.name) == name)
            chosen = person.id;
    session_.setWho(chosen);
    // Nobody is somebody to the change log, too: it must not go on naming who was here before.
    database_.ask(
        this,
        [who = storage::Who{chosen, storage::stationName()}](storage::Shop& shop) -> core::Result<void> {
            shop.setWho(who);
            return {};
        },
        [](const core::Result<void>&) {}); // fails only where no shop is open, and then nothing is saved
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
    rooms_->shelf->keepDraft();
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
