// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/who.h"

#include <QString>
#include <QSysInfo>

namespace milehold::storage {

std::string stationName() {
    return QSysInfo::machineHostName().toStdString();
}

} // namespace milehold::storage
