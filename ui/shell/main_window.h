// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quantity/distance.h"
#include "ui/shell/background_work.h"
#include "ui/theme/tokens.h"

#include <QMainWindow>

class QStackedWidget;

namespace milehold::ui {

class MessageBar;
class Rail;
class SearchBox;
class StatusLine;
class TopBar;

/// The window: rail of rooms, one search for everything, who is at this station, units, light and dark, undo
/// of the last save, messages that need somebody, and the line with the age of the last backup. Values in,
/// signals out.
class MainWindow : public QMainWindow {
    Q_OBJECT
public:
    explicit MainWindow(QWidget* parent = nullptr);

    /// Adds a room at the end of the rail, reached by Alt and Ctrl with its number. The window owns the page.
    void addRoom(const QString& id, const QString& name, const QString& iconName, QWidget* page);
    void showRoom(const QString& id);
    /// Gives the keyboard to the room on view: where it was there last, or to its first place.
    void enterRoom();
    QString currentRoom() const;
    QWidget* room(const QString& id) const;
    /// A number beside a room's name: what waits there. 0 takes it away.
    void setRoomCount(const QString& id, int waiting);

    void setShopName(const QString& name);
    /// Who can be at this station; a blank `current` asks for one.
    void setPeople(const QStringList& names, const QString& current);
    void setUnit(core::DistanceUnit unit);
    core::DistanceUnit unit() const;
    void setScheme(Scheme scheme);
    /// What Ctrl+Z would take back: `job 1204`; blank disables it.
    void setUndoText(const QString& what);
    /// The last backup in words: `Backup 12 minutes ago`; `needsYou` marks it amber.
    void setBackupText(const QString& text, bool needsYou = false);
    /// What is going on behind the window; an empty list clears the line.
    void setWork(const QList<BackgroundWork>& work);
    /// A passing note in the status line: `Job 1204 saved`.
    void setNote(const QString& text);

    SearchBox* search() const;
    MessageBar* messages() const { return messages_; }

public slots:
    void showHelp(const QString& page = {});
    void showShortcuts();

signals:
    void roomShown(const QString& id);
    void personChosen(const QString& name);
    void unitChosen(milehold::core::DistanceUnit unit);
    void schemeChosen(milehold::ui::Scheme scheme);
    void undoWanted();
    void backupWanted();
    void workCancelled(int id);
    void settingsWanted();
    void backupsWanted(); ///< the list of backups, to restore or copy one
    /// The window is asked to close; ignore it by setting `allow` to false.
    void closing(bool* allow);

protected:
    void closeEvent(QCloseEvent* event) override;

private:
    void addShortcuts();

    Rail* rail_ = nullptr;
    TopBar* top_ = nullptr;
    StatusLine* status_ = nullptr;
    MessageBar* messages_ = nullptr;
    QStackedWidget* rooms_ = nullptr;
    QStringList roomIds_;
};

} // namespace milehold::ui
