// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/counter/vehicle_words.h"

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
    QStringList words;
    if (vehicle.modelYear)
        words << QString::number(*vehicle.modelYear);
    for (const std::string& part : {vehicle.maker, vehicle.model}) {
        if (!part.empty())
            words << toText(part);
    }
    if (words.isEmpty()) {
        if (!vehicle.plate.empty())
            return toText(vehicle.plate);
        return vehicle.vin.empty() ? Words::tr("Vehicle without a name") : toText(vehicle.vin);
    }
    return words.join(QChar(u' '));
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
