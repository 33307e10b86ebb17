// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/counter/vehicle_words.h"

#include "core/shop/names.h"
#include "ui/widgets/text.h"

#include <QCoreApplication>
#include <QStringList>

namespace milehold::ui {

namespace {

struct Words {
    Q_DECLARE_TR_FUNCTIONS(VehicleWords)
};

} // namespace

QString vehicleTitle(const VehicleFound& vehicle) {
    for (const std::string& known :
         {core::vehicleName(vehicle.modelYear, vehicle.maker, vehicle.model), vehicle.plate, vehicle.vin}) {
        if (!known.empty())
            return toText(known);
    }
    return Words::tr("Vehicle without a name");
}

QString vehicleDetail(const VehicleFound& vehicle) {
    QStringList parts;
    if (!vehicle.plate.empty())
        parts << toText(vehicle.plate);
    if (!vehicle.vin.empty())
        parts << QStringLiteral("\u2026") + toText(vehicle.vin).right(8);
    if (!vehicle.customer.empty())
        parts << toText(vehicle.customer);
    return parts.join(QStringLiteral(" \u00b7 "));
}

} // namespace milehold::ui
