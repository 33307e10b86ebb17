// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/counter_controller.h"

#include "app/desktop/counter_vehicle.h"
#include "app/desktop/error_sentence.h"
#include "app/desktop/file_dialogs.h"
#include "app/desktop/worker.h"
#include "storage/quote_store.h"
#include "storage/shop.h"
#include "ui/counter/quote_page_dialog.h"

#include <algorithm>
#include <memory>

namespace milehold::app {

namespace {

constexpr std::size_t kMostFound = 12;

} // namespace

CounterController::CounterController(ui::CounterRoom& room, Database& database, Session& session,
                                     QObject* parent)
    : QObject(parent), room_(room), database_(database), session_(session) {
    for (const auto changed : {&Session::shelfChanged, &Session::settingsChanged, &Session::unitChanged}) {
        connect(&session_, changed, this, [this] {
            showChoices();
            refresh();
        });
    }
    connect(&session_, &Session::livesChanged, this, &CounterController::refresh);
    connect(&room_, &ui::CounterRoom::searchWanted, this, &CounterController::search);
    connect(&room_, &ui::CounterRoom::vehicleWanted, this, &CounterController::quoteVehicle);
    connect(&room_, &ui::CounterRoom::quoteWanted, this, &CounterController::refresh);
    connect(&room_, &ui::CounterRoom::jobsWanted, this, &CounterController::showJobs);
    connect(&room_, &ui::CounterRoom::openVehicleWanted, this, &CounterController::openVehicle);
    connect(&room_, &ui::CounterRoom::pageWanted, this, &CounterController::openPage);
    connect(&room_, &ui::CounterRoom::quoteGiven, this, [this] {
        const auto query = room_.query();
        if (room_.quote() && query)
            keepQuote(*room_.quote(), room_.chosenPath(), query->vehicle);
    });
    connect(&room_, &ui::CounterRoom::said, this, &CounterController::said);
    showChoices();
}

void CounterController::showChoices() {
    ui::CounterChoices choices;
    const auto shelf = session_.shelf();
    for (const core::EngineFamily& family : shelf->families)
        choices.families.emplace_back(family.id, family.name);
    std::sort(choices.families.begin(), choices.families.end(),
              [](const auto& a, const auto& b) { return a.second < b.second; });
    for (const core::Calibration& calibration : shelf->calibrations)
        choices.calibrations.push_back(calibration.code);
    std::sort(choices.calibrations.begin(), choices.calibrations.end());
    const auto end = std::unique(choices.calibrations.begin(), choices.calibrations.end());
    choices.calibrations.erase(end, choices.calibrations.end());
    choices.defaultYearly = session_.settings().defaultYearly;
    choices.unit = session_.unit();
    choices.currency = session_.settings().currency;
    room_.setChoices(choices);
}

void CounterController::search(const QString& text) {
    database_.askNewest(
        QStringLiteral("counter search"), this,
        [typed = text.toStdString()](storage::Shop& shop) {
            return shop.vehicles().search(typed, kMostFound);
        },
        [this, text](core::Result<std::vector<storage::VehicleHit>> hits) {
            if (!hits) {
                emit said(sentenceFor(hits.error()));
                return;
            }
            std::vector<ui::VehicleFound> found;
            for (const storage::VehicleHit& hit : *hits)
                found.push_back(toFound(hit));
            room_.setFound(text, found);
        });
}

void CounterController::quoteVehicle(core::VehicleId id) {
    database_.askNewest(
        QStringLiteral("counter vehicle"), this,
        [id, rules = session_.settings(), today = session_.today()](storage::Shop& shop) {
            return readCounterVehicle(shop, id, rules, today);
        },
        [this](core::Result<ui::CounterVehicle> vehicle) {
            if (vehicle) {
                room_.setVehicle(*vehicle);
            } else {
                emit said(sentenceFor(vehicle.error()));
            }
        });
}

void CounterController::refresh() {
    const int ticket = ++newest_;
    const auto query = room_.query();
    if (!query) {
        room_.setQuote(nullptr);
        return;
    }
    core::QuoteOptions options;
    options.unit = session_.unit();
    options.horizon = query->horizon;
    options.project = query->project;
    options.dataDate = session_.today();
    room_.setBusy(true);
    onWorker(
        this,
        [lives = session_.lives(), shelf = session_.shelf(), settings = session_.settings(),
         subject = query->subject,
         options] { return core::makeQuote(*lives, subject, *shelf, settings, options); },
        [this, ticket](core::Result<core::Quote> quote) {
            if (ticket != newest_)
                return;
            if (quote)
                room_.setQuote(std::make_shared<const core::Quote>(std::move(*quote)));
            else
                room_.setProblem(sentenceFor(quote.error()));
        });
}

void CounterController::keepQuote(const core::Quote& quote, int path,
                                  std::optional<core::VehicleId> vehicle) {
    if (!vehicle || path < 0)
        return; // described by hand: there is nothing to compare it with later
    core::GivenQuote given = core::givenQuote(quote, static_cast<std::size_t>(path), *vehicle);
    given.by = session_.who();
    database_.ask(
        this, [given](storage::Shop& shop) { return storage::QuoteStore(shop).save(given); },
        [this](core::Result<core::GivenQuote> kept) {
            if (!kept) {
                emit said(sentenceFor(kept.error()));
                return;
            }
            emit said(tr("What was quoted is kept with the vehicle"));
        });
}

ui::QuotePageDialog* CounterController::openPage() {
    if (!room_.quote() || room_.chosenPath() < 0)
        return nullptr;
    ui::QuotePageContent content;
    content.quote = *room_.quote();
    content.chosen = room_.chosenPath();
    content.vehicle = room_.vehicle();
    if (const auto& family = content.vehicle.family)
        if (const core::EngineFamily* engine = session_.shelf()->find(*family))
            content.engine = engine->name;
    content.settings = session_.settings();
    auto* dialog = new ui::QuotePageDialog(std::move(content), &room_);
    dialog->setAttribute(Qt::WA_DeleteOnClose);
    connect(dialog, &ui::QuotePageDialog::given, this,
            [this, quote = *room_.quote(), path = room_.chosenPath(), query = room_.query()] {
                keepQuote(quote, path, query ? query->vehicle : std::nullopt);
            });
    connect(dialog, &ui::QuotePageDialog::said, this, &CounterController::said);
    connect(dialog, &ui::QuotePageDialog::failed, this, &CounterController::said);
    connect(dialog, &ui::QuotePageDialog::pdfWanted, dialog, [dialog] {
        const QString path = askWhereToSave(dialog, tr("Keep the page as a PDF"), dialog->suggestedName());
        if (!path.isEmpty())
            dialog->savePdf(path);
    });
    dialog->open();
    return dialog;
}

} // namespace milehold::app
