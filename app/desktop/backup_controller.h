// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/desktop/database.h"
#include "core/quantity/date.h"
#include "storage/backup.h"

#include <QObject>
#include <QTimer>

#include <optional>

namespace milehold::ui {
class MainWindow;
}

namespace milehold::app {

/// Copies the shop when it is opened with changes since its last copy, half an hour after a change, once a
/// day while it is open, and when somebody asks; shows the age of the last copy.
class BackupController : public QObject {
    Q_OBJECT
public:
    BackupController(ui::MainWindow& window, Database& database, QObject* parent = nullptr);

    void backUpNow();
    /// Reads the age of the last copy again.
    void refresh();

signals:
    void said(const QString& note);
    void failed(const milehold::core::Error& error);
    /// The copy was made and is oddly small: somebody should look before older ones are trusted or dropped.
    void alarmed(const QString& why);

private:
    void begin();
    void backUp(storage::BackupReason reason);
    void showAge();

    ui::MainWindow& window_;
    Database& database_;
    std::optional<core::Moment> last_;
    bool failedLast_ = false;
    bool readOnly_ = false;
    bool making_ = false;
    QTimer afterChange_;
    QTimer minute_;
};

/// `Backup 12 minutes ago`, in whole units; `now` and `at` in UTC.
QString backupAge(std::optional<core::Moment> at, core::Moment now);

} // namespace milehold::app
