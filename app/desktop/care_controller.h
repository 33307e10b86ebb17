// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/desktop/database.h"
#include "storage/disk_room.h"
#include "storage/shop_care.h"

#include <QObject>
#include <QTimer>

#include <functional>
#include <optional>

namespace milehold::ui {
class MainWindow;
}

namespace milehold::app {

/// What is due for the shop's safety, as it stands now.
struct CareState {
    storage::ShopCare care;
    storage::DiskRoom room;
    std::optional<core::Moment> oldestBackup; ///< how long there is something to copy and to test
    std::optional<core::Error> copyFailed;    ///< of the daily copy; a disk that is not there is no failure
    bool readOnly = false;
};

/// Bars over the rooms: little space on the disk, no copy on another disk for a week, no test of a restore
/// for half a year. Once a day it copies the newest backup to the chosen disk when that is there, and sweeps
/// files that nobody names any more.
class CareController : public QObject {
    Q_OBJECT
public:
    CareController(ui::MainWindow& window, Database& database, std::function<core::Moment()> now,
                   QObject* parent = nullptr);
    /// Looks again now.
    void refresh();

signals:
    void copyWanted();
    void testWanted();

private:
    void tell(const CareState& state);

    ui::MainWindow& window_;
    Database& database_;
    std::function<core::Moment()> now_;
    QTimer hour_;
};

} // namespace milehold::app
