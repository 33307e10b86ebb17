// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/shell/main_window.h"

#include "ui/shell/alt_types_nothing.h"
#include "ui/shell/enter_presses.h"
#include "ui/shell/help_viewer.h"
#include "ui/shell/message_bar.h"
#include "ui/shell/rail.h"
#include "ui/shell/shortcuts_sheet.h"
#include "ui/shell/top_bar.h"
#include "ui/theme/icons.h"
#include "ui/theme/theme.h"
#include "ui/widgets/search_box.h"
#include "ui/widgets/segmented.h"

#include <QApplication>
#include <QCloseEvent>
#include <QHBoxLayout>
#include <QScrollArea>
#include <QShortcut>
#include <QStackedWidget>
#include <QVBoxLayout>

namespace milehold::ui {

namespace {

/// Takes the rooms no smaller than they can be: a scroll area asks a layout with wrapped words for the height
/// it would like, and would scroll where there is no need.
class RoomHolder : public QWidget {
public:
    explicit RoomHolder(QWidget* rooms) : rooms_(rooms) { rooms_->setParent(this); }
    QSize minimumSizeHint() const override { return rooms_->minimumSizeHint(); }
    QSize sizeHint() const override { return rooms_->sizeHint(); }

protected:
    void resizeEvent(QResizeEvent*) override { rooms_->setGeometry(rect()); }
    bool event(QEvent* event) override {
        if (event->type() == QEvent::LayoutRequest)
            updateGeometry();
        return QWidget::event(event);
    }

private:
    QWidget* rooms_;
};

} // namespace

MainWindow::MainWindow(QWidget* parent) : QMainWindow(parent) {
    setWindowTitle(QStringLiteral("Milehold"));
    setMinimumSize(960, 600);
    qApp->installEventFilter(new EnterPresses(this));
    qApp->installEventFilter(new AltTypesNothing(this));
    resize(1280, 800);
    auto* page = new QWidget(this);
    auto* across = new QHBoxLayout(page);
    across->setContentsMargins(0, 0, 0, 0);
    across->setSpacing(0);
    rail_ = new Rail(page);
    across->addWidget(rail_);
    auto* down = new QVBoxLayout;
    down->setContentsMargins(0, 0, 0, 0);
    down->setSpacing(0);
    across->addLayout(down, 1);
    top_ = new TopBar(page);
    messages_ = new MessageBar(page);
    rooms_ = new QStackedWidget(page);
    status_ = new StatusLine(page);
    down->addWidget(top_);
    down->addWidget(messages_);
    // On a screen smaller than a room it is moved about in, rather than cut off.
    auto* view = new QScrollArea(page);
    view->setFrameShape(QFrame::NoFrame);
    view->setFocusPolicy(Qt::NoFocus);
    view->setWidgetResizable(true);
    view->setWidget(new RoomHolder(rooms_));
    down->addWidget(view, 1);
    down->addWidget(status_);
    setCentralWidget(page);

    connect(rail_, &QListWidget::currentRowChanged, this, [this](int row) {
        if (row < 0 || row >= roomIds_.size())
            return;
        rooms_->setCurrentIndex(row);
        emit roomShown(roomIds_[row]);
    });
    connect(top_, &TopBar::personChosen, this, &MainWindow::personChosen);
    connect(top_, &TopBar::unitChosen, this, &MainWindow::unitChosen);
    connect(top_, &TopBar::schemeChosen, this, &MainWindow::schemeChosen);
    connect(top_, &TopBar::undoWanted, this, &MainWindow::undoWanted);
    connect(top_, &TopBar::settingsWanted, this, &MainWindow::settingsWanted);
    connect(top_, &TopBar::backupsWanted, this, &MainWindow::backupsWanted);
    connect(top_, &TopBar::helpWanted, this, [this] { showHelp(); });
    connect(top_, &TopBar::keysWanted, this, &MainWindow::showShortcuts);
    connect(status_, &StatusLine::backupWanted, this, &MainWindow::backupWanted);
    connect(status_, &StatusLine::workCancelled, this, &MainWindow::workCancelled);
    addShortcuts();
}

void MainWindow::addRoom(const QString& id, const QString& name, const QString& iconName, QWidget* page) {
    roomIds_ << id;
    rooms_->addWidget(page);
    rail_->addRoom(name, iconName);
    const auto number = roomIds_.size();
    if (number <= 9) {
        for (const QString& keys : {QStringLiteral("Alt+%1"), QStringLiteral("Ctrl+%1")}) {
            auto* shortcut = new QShortcut(QKeySequence(keys.arg(number)), this);
            connect(shortcut, &QShortcut::activated, this, [this, id] {
                showRoom(id);
                enterRoom();
            });
        }
    }
    if (roomIds_.size() == 1)
        rail_->setCurrentRow(0);
}

void MainWindow::enterRoom() {
    QWidget* shown = rooms_->currentWidget();
    if (!shown || shown->isAncestorOf(focusWidget()))
        return;
    QWidget* place = shown->focusWidget(); // where the keyboard was when the room was left
    if (shown->focusProxy())
        place = shown->focusProxy();
    if (!place || !place->isVisible() || !place->isEnabled()) {
        place = shown;
        do
            place = place->nextInFocusChain();
        while (place != shown && !(shown->isAncestorOf(place) && place->isVisible() && place->isEnabled() &&
                                   (place->focusPolicy() & Qt::TabFocus)));
    }
    place->setFocus(Qt::ShortcutFocusReason);
}

void MainWindow::showRoom(const QString& id) {
    if (const auto row = roomIds_.indexOf(id); row >= 0)
        rail_->setCurrentRow(static_cast<int>(row));
}

QString MainWindow::currentRoom() const {
    return roomIds_.value(rail_->currentRow());
}

QWidget* MainWindow::room(const QString& id) const {
    const auto row = roomIds_.indexOf(id);
    return row < 0 ? nullptr : rooms_->widget(static_cast<int>(row));
}

void MainWindow::setRoomCount(const QString& id, int waiting) {
    if (const auto row = roomIds_.indexOf(id); row >= 0)
        rail_->setCount(static_cast<int>(row), waiting);
}

void MainWindow::setShopName(const QString& name) {
    setWindowTitle(name.isEmpty() ? QStringLiteral("Milehold") : tr("%1 – Milehold").arg(name));
    status_->setShop(name);
}

void MainWindow::setPeople(const QStringList& names, const QString& current) {
    top_->setPeople(names, current);
}
void MainWindow::setUnit(core::DistanceUnit unit) {
    top_->setUnit(unit);
}
core::DistanceUnit MainWindow::unit() const {
    return top_->unit();
}
void MainWindow::setScheme(Scheme scheme) {
    top_->setScheme(scheme);
}
void MainWindow::setUndoText(const QString& what) {
    top_->setUndoText(what);
}
void MainWindow::setBackupText(const QString& text, bool needsYou) {
    status_->setBackup(text, needsYou);
}
void MainWindow::setWork(const QList<BackgroundWork>& work) {
    status_->setWork(work);
}
void MainWindow::setNote(const QString& text) {
    status_->setNote(text);
}
SearchBox* MainWindow::search() const {
    return top_->search();
}

void MainWindow::showHelp(const QString& page) {
    auto* help = findChild<HelpViewer*>();
    if (!help)
        help = new HelpViewer(this);
    // F1 in a room opens that room's page.
    help->showPage(page.isEmpty() ? currentRoom() : page);
    help->show();
    help->raise();
    help->activateWindow();
}

void MainWindow::showShortcuts() {
    QList<ShortcutsSheet::Key> rooms;
    for (int i = 0; i < rail_->count() && i < 9; ++i) {
        rooms << ShortcutsSheet::Key{tr("Alt+%1").arg(i + 1), rail_->item(i)->text()};
    }
    auto* sheet =
        new ShortcutsSheet({{tr("Rooms"), rooms},
                            {tr("Everywhere"),
                             {{tr("Ctrl+K"), tr("Search vehicles, customers, repair orders")},
                              {tr("Ctrl+I"), tr("The page of the vehicle at hand")},
                              {tr("Ctrl+Z"), tr("Take back the last save")},
                              {tr("Ctrl+Shift+Z"), tr("Do it again")},
                              {tr("Ctrl+H"), tr("History of what is open")},
                              {tr("Ctrl+Shift+A"), tr("Photos and sounds of the job")},
                              {tr("Ctrl+Shift+E"), tr("Export; with I instead of E: import")},
                              {tr("F1"), tr("Help for this room")},
                              {tr("F6"), tr("To the rooms, and back")},
                              {tr("Ctrl+Q"), tr("Close the shop and leave")},
                              {tr("Ctrl+/"), tr("This sheet")}}},
                            {tr("Bay"),
                             {{tr("Ctrl+N"), tr("Log a job")},
                              {tr("Ctrl+S"), tr("Save the job")},
                              {tr("Ctrl+F"), tr("Find a job in the list")},
                              {tr("Alt+Q"), tr("It started quiet before delivery")},
                              {tr("F2"), tr("Show or hide the vehicle's fields")},
                              {tr("F8"), tr("To the next thing to put right")},
                              {tr("Esc"), tr("Back to the jobs; what is unfinished is kept")}}},
                            {tr("Engine plan"),
                             {{tr("← →"), tr("From phaser to phaser")},
                              {tr("Space"), tr("Choose or leave it")},
                              {tr("Ctrl+A"), tr("Choose all")}}},
                            {tr("Curves"),
                             {{tr("← →"), tr("Read the lines at another distance; with Shift in big steps")},
                              {tr("↑ ↓"), tr("Choose a line")},
                              {tr("Return"), tr("Open the jobs behind it")},
                              {tr("Ctrl+C"), tr("Copy the figures")}}}},
                           this);
    sheet->setAttribute(Qt::WA_DeleteOnClose);
    sheet->open();
}

void MainWindow::addShortcuts() {
    const auto add = [this](const QKeySequence& keys, auto does) {
        connect(new QShortcut(keys, this), &QShortcut::activated, this, does);
    };
    const auto find = [this] {
        search()->setFocus(Qt::ShortcutFocusReason);
        search()->selectAll();
    };
    add(QKeySequence(QStringLiteral("Ctrl+K")), find);
    // Typed into a field it is a character; anywhere else it looks something up.
    add(QKeySequence(QStringLiteral("/")), find);
    add(QKeySequence(QKeySequence::Undo), [this] {
        if (top_->canUndo())
            emit undoWanted();
    });
    add(QKeySequence(QKeySequence::HelpContents), [this] { showHelp(); });
    add(QKeySequence(QStringLiteral("Ctrl+/")), [this] { showShortcuts(); });
    add(QKeySequence(QKeySequence::Quit), [this] { close(); });
    add(QKeySequence(QStringLiteral("F6")), [this] {
        if (rail_->hasFocus()) {
            enterRoom();
        } else {
            rail_->setFocus(Qt::ShortcutFocusReason);
        }
    });
}

void MainWindow::closeEvent(QCloseEvent* event) {
    bool allow = true;
    emit closing(&allow);
    event->setAccepted(allow);
}

} // namespace milehold::ui
