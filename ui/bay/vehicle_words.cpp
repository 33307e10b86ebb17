// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/bay/vehicle_words.h"

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

QString vehicleTitle(const core::Vehicle& vehicle) {
    const std::string name = core::vehicleName(vehicle.modelYear, vehicle.maker, vehicle.model);
    if (!name.empty())
        return toText(name);
    if (!vehicle.plate.empty())
        return Words::tr("Plate %1").arg(toText(vehicle.plate));
    if (!vehicle.vin.empty())
        return toText(vehicle.vin);
    return Words::tr("New vehicle");
}

QString vehicleDetail(const core::Vehicle& vehicle, const std::optional<core::Customer>& customer) {
    QStringList parts;
    if (!vehicle.vin.empty())
        parts << Words::tr("VIN %1").arg(toText(vehicle.vin));
    if (!vehicle.plate.empty())
        parts << toText(vehicle.plate);
    if (customer && !customer->name.empty())
        parts << toText(customer->name);
    if (customer && customer->doNotCall)
        parts << Words::tr("do not call");
    else if (customer && !customer->phones.empty())
        parts << toText(customer->phones.front());
    return parts.isEmpty() ? Words::tr("nothing is known of it yet") : parts.join(QStringLiteral(" · "));
}

} // namespace milehold::ui
