// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/desktop/database.h"
#include "storage/backup.h"
#include "storage/shop_care.h"

#include <QObject>
#include <QPointer>

#include <filesystem>
#include <functional>
#include <vector>

namespace milehold::ui {
class BackupsDialog;
class MainWindow;
} // namespace milehold::ui

namespace milehold::app {

/// The list of backups in the window: makes, tests and copies them; restoring and looking need another shop
/// to be opened and are handed on.
class BackupList : public QObject {
    Q_OBJECT
public:
    /// `askFolder` picks a folder on another disk; blank: given up.
    BackupList(ui::MainWindow& window, Database& database, std::function<QString()> askFolder,
               QObject* parent = nullptr);

    void show();
    /// Copies the newest backup to another disk, asking for the folder.
    void copyNewest();
    void testNewest();

signals:
    void restoreWanted(const std::filesystem::path& backup);
    void lookWanted(const std::filesystem::path& backup);
    /// A backup, a copy or a test was made: what reminds of them wants reading again.
    void cared();
    void said(const QString& note);
    void failed(const milehold::core::Error& error);

private:
    struct State {
        std::vector<storage::BackupInfo> backups;
        storage::ShopCare care;
    };

    void refresh();
    void copy(const QString& name);
    void test(const QString& name);
    void begin(const QString& what);
    void end(const core::Result<void>& outcome, const QString& done);
    const storage::BackupInfo* named(const QString& name) const;

    ui::MainWindow& window_;
    Database& database_;
    std::function<QString()> askFolder_;
    QPointer<ui::BackupsDialog> dialog_;
    State state_;
};

/// `after a change`, `before an import` ...
QString backupReasonText(storage::BackupReason reason);

} // namespace milehold::app
