// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/search_controller.h"

#include "core/shop/names.h"
#include "storage/shop.h"
#include "ui/widgets/search_box.h"
#include "ui/widgets/text.h"

namespace milehold::app {

namespace {

constexpr std::size_t kMostHits = 12;

using Hits = core::Result<std::vector<storage::VehicleHit>>;

QString kindOf(storage::FoundIn found) {
    switch (found) {
    case storage::FoundIn::Vin:
        return SearchController::tr("VIN");
    case storage::FoundIn::Plate:
        return SearchController::tr("Plate");
    case storage::FoundIn::RepairOrder:
        return SearchController::tr("Repair order");
    case storage::FoundIn::CustomerName:
        return SearchController::tr("Customer");
    case storage::FoundIn::Phone:
        return SearchController::tr("Phone");
    }
    return {};
}

ui::SearchResult resultFor(const storage::VehicleHit& hit) {
    ui::SearchResult result;
    result.icon = QStringLiteral("vehicle");
    const std::string name = core::vehicleName(hit.modelYear, hit.maker, hit.model);
    result.title = ui::toText(name.empty() ? hit.vin : name);
    QStringList detail{ui::toText(hit.plate), ui::toText(hit.customerName), ui::toText(hit.vin).right(8)};
    if (hit.lastJobNumber > 0)
        detail << SearchController::tr("job %1").arg(hit.lastJobNumber);
    detail.removeAll(QString());
    result.detail = detail.join(QStringLiteral(" · "));
    result.kind = kindOf(hit.foundIn);
    result.key = ui::toText(core::toString(hit.id.uuid));
    return result;
}

} // namespace

SearchController::SearchController(ui::SearchBox& box, Database& database, QObject* parent)
    : QObject(parent), box_(box), database_(database) {
    connect(&box_, &ui::SearchBox::queryChanged, this, &SearchController::look);
    connect(&box_, &ui::SearchBox::submitted, this, &SearchController::submit);
    connect(&box_, &ui::SearchBox::chosen, this, [this](const QVariant& key) {
        if (const auto uuid = core::uuidFromString(ui::toUtf8(key.toString()))) {
            box_.clear();
            emit vehicleChosen({*uuid});
        }
    });
}

void SearchController::look(const QString& text) {
    if (text.trimmed().isEmpty())
        return;
    database_.askNewest(
        QStringLiteral("search"), this,
        [words = ui::toUtf8(text)](storage::Shop& shop) { return shop.vehicles().search(words, kMostHits); },
        [this, text](Hits hits) {
            if (!hits) {
                emit failed(hits.error());
                return;
            }
            QList<ui::SearchResult> results;
            for (const auto& hit : *hits)
                results.append(resultFor(hit));
            box_.setResults(text, results);
        });
}

void SearchController::submit(const QString& text) {
    // A scan ends with Return before the list has come: what it names exactly is opened all the same.
    database_.askNewest(
        QStringLiteral("search"), this,
        [words = ui::toUtf8(text)](storage::Shop& shop) { return shop.vehicles().search(words, 2); },
        [this, text](Hits hits) {
            if (!hits) {
                emit failed(hits.error());
                return;
            }
            box_.clear();
            if (hits->size() == 1)
                emit vehicleChosen(hits->front().id);
            else
                emit unknownTyped(text);
        });
}

} // namespace milehold::app
