// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/bay_reading.h"

#include "core/shop/vin.h"
#include "storage/fitted_phasers.h"
#include "storage/shop.h"
#include "ui/bay/vehicle_words.h"
#include "ui/widgets/text.h"

#include <QCoreApplication>

#include <algorithm>
#include <unordered_map>

namespace milehold::app {
namespace {

struct Words {
    Q_DECLARE_TR_FUNCTIONS(BayReading)
};

const QString kKnown = QStringLiteral("known:");
const QString kFresh = QStringLiteral("new:");

core::Result<SheetData> readAround(storage::Shop& shop, core::VehicleId vehicle,
                                   const core::ShopSettings& rules, core::Date today) {
    SheetData data;
    auto past = shop.vehicles().history(vehicle);
    if (!past)
        return core::failureOf(past);
    data.past = std::move(*past);
    data.card.vehicle = data.past.vehicle;
    data.card.job.vehicle = vehicle;
    if (data.past.vehicle.customer) {
        auto customer = shop.customers().find(*data.past.vehicle.customer);
        if (!customer)
            return core::failureOf(customer);
        data.card.customer = std::move(*customer);
    }
    // With the shelf, as every curve has them: a newer part number ends a life, too.
    const auto shelf = shop.shelf().load();
    if (!shelf)
        return core::failureOf(shelf);
    auto lives = core::deriveLives(data.past, rules, today, &*shelf);
    if (!lives)
        return core::failureOf(lives);
    data.lives = std::move(*lives);
    return data;
}

core::Vehicle vehicleIn(const storage::JobRow& row) {
    core::Vehicle vehicle;
    vehicle.vin = row.vin;
    vehicle.plate = row.plate;
    vehicle.maker = row.maker;
    vehicle.model = row.model;
    vehicle.modelYear = row.modelYear;
    return vehicle;
}

} // namespace

core::Result<SheetData> readSheet(storage::Shop& shop, core::JobId id, const core::ShopSettings& rules,
                                  core::Date today) {
    auto job = shop.jobs().find(id);
    if (!job)
        return core::failureOf(job);
    auto data = readAround(shop, job->vehicle, rules, today);
    if (data)
        data->card.job = std::move(*job);
    return data;
}

core::Result<SheetData> readVehicleSheet(storage::Shop& shop, core::VehicleId vehicle,
                                         const core::ShopSettings& rules, core::Date today) {
    return readAround(shop, vehicle, rules, today);
}

core::Result<JobRows> readJobRows(storage::Shop& shop, const storage::JobFilter& filter, std::size_t most) {
    auto rows = shop.jobs().rows(filter);
    if (!rows)
        return core::failureOf(rows);
    std::vector<core::JobId> shown;
    for (std::size_t i = 0; i < rows->size() && i < most; ++i)
        shown.push_back((*rows)[i].id);
    auto phasers = storage::fittedPhasers(shop, shown);
    if (!phasers)
        return core::failureOf(phasers);
    return JobRows{std::move(*rows), std::move(*phasers)};
}

std::vector<ui::JobListRow> toListRows(const JobRows& rows, const core::Shelf& shelf,
                                       std::span<const core::LifeRecord> lives) {
    std::unordered_map<core::JobId, const core::Life*> lifeOf;
    for (const auto& row : rows.rows)
        lifeOf.emplace(row.id, nullptr);
    for (const auto& record : lives) {
        if (const auto wanted = lifeOf.find(record.life.job); wanted != lifeOf.end())
            wanted->second = &record.life;
    }
    std::vector<ui::JobListRow> shown;
    shown.reserve(rows.rows.size());
    for (const auto& row : rows.rows) {
        ui::JobListRow line;
        line.id = row.id;
        line.number = row.number;
        line.repairOrder = row.repairOrder;
        line.kind = row.kind;
        line.vehicle = row.vehicle;
        line.vehicleLabel = ui::toUtf8(ui::vehicleTitle(vehicleIn(row)));
        line.vin = row.vin;
        line.plate = row.plate;
        line.customer = row.customerName;
        line.path = row.pathName;
        if (const core::EngineFamily* family = row.family ? shelf.find(*row.family) : nullptr)
            line.family = *family;
        if (const auto fitted = rows.phasers.find(row.id); fitted != rows.phasers.end())
            line.positions = fitted->second;
        line.technician = row.technicianName;
        line.writtenUp = row.writtenUp;
        line.delivered = row.delivered;
        line.odometer = row.odometerOut ? row.odometerOut : row.odometerIn;
        line.deliveryCheck = row.deliveryCheck;
        line.voided = row.voided;
        if (const core::Life* life = lifeOf.at(row.id)) {
            line.state = life->state;
            line.known = life->known;
        }
        shown.push_back(std::move(line));
    }
    return shown;
}

QList<ui::SearchResult> toResults(const QString& query, const std::vector<storage::VehicleHit>& hits) {
    QList<ui::SearchResult> results;
    const std::string vin = core::vinFromScan(ui::toUtf8(query));
    bool exact = false;
    for (const auto& hit : hits) {
        core::Vehicle vehicle;
        vehicle.vin = hit.vin;
        vehicle.plate = hit.plate;
        vehicle.maker = hit.maker;
        vehicle.model = hit.model;
        vehicle.modelYear = hit.modelYear;
        exact = exact || (!hit.vin.empty() && hit.vin == vin);
        QStringList detail{ui::toText(hit.plate), ui::toText(hit.customerName), ui::toText(hit.phone),
                           ui::toText(core::vinSearchKey(hit.vin))};
        detail.removeAll(QString());
        const QString kind =
            hit.lastJobNumber > 0 ? Words::tr("last job %1").arg(hit.lastJobNumber) : Words::tr("no job yet");
        results.append({QStringLiteral("vehicle"), ui::vehicleTitle(vehicle),
                        detail.join(QStringLiteral(" · ")), kind,
                        kKnown + ui::toText(core::toString(hit.id.uuid))});
    }
    if (exact || query.trimmed().isEmpty())
        return results;
    const auto year = core::vinModelYear(vin);
    const bool isVin = core::isWellFormedVin(vin);
    const QString title =
        isVin && year ? Words::tr("New vehicle of model year %1").arg(*year) : Words::tr("New vehicle");
    const QString detail =
        isVin ? Words::tr("VIN %1").arg(ui::toText(vin)) : Words::tr("starting with \"%1\"").arg(query);
    results.append({QStringLiteral("add"), title, detail, Words::tr("new here"), kFresh + query});
    return results;
}

ChosenVehicle chosenVehicle(const QVariant& key) {
    const QString text = key.toString();
    if (text.startsWith(kKnown))
        if (const auto uuid = core::uuidFromString(ui::toUtf8(text.mid(kKnown.size()))))
            return {core::VehicleId{*uuid}, {}};
    return {std::nullopt, text.startsWith(kFresh) ? text.mid(kFresh.size()) : QString()};
}

ui::JobCard cardForNew(const QString& typed) {
    ui::JobCard card;
    const std::string text = ui::toUtf8(typed.trimmed());
    const std::string vin = core::vinFromScan(text);
    const bool digits =
        std::any_of(text.begin(), text.end(), [](unsigned char c) { return c >= '0' && c <= '9'; });
    if (core::isWellFormedVin(vin) || vin.size() > 12) {
        card.vehicle.vin = vin;
        card.vehicle.modelYear = core::vinModelYear(vin);
    } else if (digits) {
        card.vehicle.plate = text;
    } else if (!text.empty()) {
        card.customer.emplace();
        card.customer->name = text;
    }
    return card;
}

core::Result<ChangeOfJob> whoChanged(storage::Shop& shop, core::JobId job) {
    const auto changes = shop.changeLog().of("job", job.uuid);
    if (!changes)
        return core::failureOf(changes);
    if (changes->empty())
        return ChangeOfJob{};
    const storage::Change& newest = changes->front();
    ChangeOfJob change;
    if (newest.who.staff)
        if (const auto person = shop.staff().find(*newest.who.staff))
            change.who = person->name;
    if (change.who.empty())
        change.who = newest.who.station;
    for (const auto& one : newest.fields) {
        if (one.field == "rev")
            continue;
        std::string name = one.field;
        std::replace(name.begin(), name.end(), '_', ' ');
        change.fields += (change.fields.empty() ? "" : ", ") + name;
    }
    return change;
}

} // namespace milehold::app
