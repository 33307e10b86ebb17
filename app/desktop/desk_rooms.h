// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/desktop/backup_controller.h"
#include "app/desktop/backup_list.h"
#include "app/desktop/bay_controller.h"
#include "app/desktop/calls_controller.h"
#include "app/desktop/care_controller.h"
#include "app/desktop/counter_controller.h"
#include "app/desktop/desk.h"
#include "app/desktop/office_controller.h"
#include "app/desktop/records_desk.h"
#include "app/desktop/search_controller.h"
#include "app/desktop/server_watch.h"
#include "app/desktop/shelf_controller.h"
#include "app/desktop/vehicle_controller.h"
#include "storage/server/server_address.h"

#include <QString>

#include <memory>

namespace milehold::app {

inline const QString kBay = QStringLiteral("bay");
inline const QString kCounter = QStringLiteral("counter");
inline const QString kOffice = QStringLiteral("office");
inline const QString kShelf = QStringLiteral("shelf");

inline bool isOnServer(const QString& shop) {
    return storage::isServerAddress(shop.toStdString());
}

/// One controller a room or a concern of the open window; they go with it.
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

} // namespace milehold::app
