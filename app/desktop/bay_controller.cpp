// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/bay_controller.h"

#include "app/desktop/error_sentence.h"
#include "core/shop/vin.h"
#include "storage/make_id.h"
#include "storage/shop.h"
#include "ui/bay/bay_room.h"
#include "ui/widgets/text.h"

#include <algorithm>

namespace milehold::app {
namespace {

constexpr std::size_t kMostHits = 12;
constexpr std::size_t kMostRows = 500;

struct ListRows {
    std::vector<ui::JobListRow> rows;
    bool more = false; ///< than are shown
};

storage::JobFilter filterFor(const ui::JobQuery& query, const std::vector<core::JobId>& given) {
    storage::JobFilter filter;
    filter.text = ui::toUtf8(query.text);
    filter.limit = kMostRows + 1; // one more tells whether there are more
    switch (query.shown) {
    case ui::JobsShown::InWork:
        filter.scope = storage::JobScope::InWork;
        break;
    case ui::JobsShown::Finished:
        filter.scope = storage::JobScope::Delivered;
        break;
    case ui::JobsShown::Given:
        filter.ids = given;
        filter.limit = given.size() + 1;
        break;
    case ui::JobsShown::All:
        break;
    }
    return filter;
}

} // namespace

BayController::BayController(ui::BayRoom& room, Database& database, Session& session, QObject* parent)
    : QObject(parent), room_(room), database_(database), session_(session), draft_(database) {
    connectRoom();
    connect(&session_, &Session::livesChanged, this, &BayController::refreshList);
    connect(&database_, &Database::changed, this, [this] {
        refresh();
        reloadIfUntouched();
    });
    for (const auto changed : {&Session::shelfChanged, &Session::staffChanged, &Session::settingsChanged,
                               &Session::unitChanged, &Session::whoChanged})
        connect(&session_, changed, this, &BayController::shareContext);
    connect(&draft_, &DraftKeeper::failed, this, [this](const core::Error& error) {
        emit needsAttention(tr("What you type is not being kept: %1").arg(sentenceFor(error)));
    });
    shareContext();
    refresh();
}

BayController::~BayController() {
    draft_.leave();
}

void BayController::connectRoom() {
    ui::JobList* jobs = room_.jobs();
    connect(&room_, &ui::BayRoom::newJobWanted, this, &BayController::newJob);
    connect(jobs, &ui::JobList::queryChanged, this, &BayController::refreshList);
    connect(jobs, &ui::JobList::jobOpened, this, &BayController::openJob);
    connect(jobs, &ui::JobList::draftResumed, this, &BayController::resumeDraft);
    connect(jobs, &ui::JobList::draftDropped, this, [this](const QString& key) {
        draft_.dropForm(ui::toUtf8(key));
        refreshDrafts();
    });
    ui::JobSheet* sheet = room_.sheet();
    connect(sheet, &ui::JobSheet::vehicleQueried, this, &BayController::findVehicles);
    connect(sheet, &ui::JobSheet::vehicleChosen, this, &BayController::chooseVehicle);
    connect(sheet, &ui::JobSheet::closeWanted, this, &BayController::backToList);
    connect(sheet, &ui::JobSheet::jobActivated, this, [this](core::JobId job) {
        if (job != room_.sheet()->form()->stored().job.id)
            openJob(job);
    });
    connect(sheet, &ui::JobSheet::edited, &draft_, &DraftKeeper::touch);
    connect(sheet, &ui::JobSheet::fieldLeft, &draft_, &DraftKeeper::flush);
    connect(sheet, &ui::JobSheet::saveWanted, this, &BayController::save);
    connect(sheet, &ui::JobSheet::voidWanted, this, &BayController::voidJob);
    connect(sheet, &ui::JobSheet::unvoidWanted, this, &BayController::unvoidJob);
    connect(sheet, &ui::JobSheet::instrumentReplaced, this, &BayController::replaceInstrument);
    connect(sheet, &ui::JobSheet::noticeAnswered, this, &BayController::answerNotice);
}

void BayController::shareContext() {
    ui::BayContext context;
    context.shelf = session_.shelf();
    context.staff = session_.staff();
    context.settings = session_.settings();
    context.unit = session_.unit();
    context.today = session_.today();
    context.who = session_.who();
    room_.setContext(context);
}

void BayController::failed(const core::Error& error) {
    emit needsAttention(sentenceFor(error));
}

void BayController::refresh() {
    refreshList();
    refreshDrafts();
}

void BayController::refreshList() {
    const ui::JobQuery query = room_.jobs()->query();
    if (query.shown == ui::JobsShown::Given && given_.empty()) {
        room_.jobs()->setJobs({});
        return;
    }
    database_.askNewest(
        QStringLiteral("bay list"), this,
        // With the lives at hand on that thread, too: a large shop has more of them than a frame has time
        // for.
        [filter = filterFor(query, given_), all = query.shown == ui::JobsShown::Given,
         shelf = session_.shelf(), lives = session_.lives()](storage::Shop& shop) -> core::Result<ListRows> {
            auto rows = readJobRows(shop, filter, kMostRows);
            if (!rows)
                return core::failureOf(rows);
            const bool more = rows->rows.size() > kMostRows && !all;
            if (more)
                rows->rows.resize(kMostRows);
            return ListRows{toListRows(*rows, *shelf, *lives), more};
        },
        [this](core::Result<ListRows> rows) {
            if (!rows) {
                room_.jobs()->setProblem(sentenceFor(rows.error()));
                return;
            }
            room_.jobs()->setJobs(std::move(rows->rows), rows->more);
            if (selectAfterList_ && room_.jobs()->model()->rowOf(*selectAfterList_) >= 0) {
                room_.jobs()->selectJob(*selectAfterList_);
                selectAfterList_.reset();
            }
        });
}

ui::JobCard BayController::freshCard() const {
    ui::JobCard card;
    card.job.id = storage::makeId<core::JobId>();
    card.job.writtenUp = session_.today();
    card.job.delivered = session_.today();
    if (const auto who = session_.who())
        for (const auto& person : session_.staff()) {
            if (person.id == *who && person.technician)
                card.job.technician = who;
            if (person.id == *who && person.advisor)
                card.job.advisor = who;
        }
    return card;
}

void BayController::newJob() {
    leaveSheet();
    ++ticket_;
    room_.sheet()->askForVehicle(freshCard());
    room_.showSheet();
    room_.sheet()->vehicleSearch()->setFocus();
    offerJobsInWork();
    emit roomWanted();
}

void BayController::offerJobsInWork() {
    storage::JobFilter filter;
    filter.scope = storage::JobScope::InWork;
    filter.limit = kMostHits;
    database_.askNewest(
        QStringLiteral("bay in work"), this,
        [filter](storage::Shop& shop) { return shop.jobs().rows(filter); },
        [this](core::Result<std::vector<storage::JobRow>> rows) {
            if (!rows)
                return failed(rows.error());
            QList<ui::JobInWork> jobs;
            for (const auto& row : toListRows({std::move(*rows), {}}, *session_.shelf(), {})) {
                QStringList words{tr("Job %1").arg(row.number), ui::toText(row.vehicleLabel),
                                  ui::toText(row.plate), tr("since %1").arg(ui::dateText(row.writtenUp))};
                words.removeAll(QString());
                jobs.append({row.id, words.join(QStringLiteral(" · "))});
            }
            room_.sheet()->setJobsInWork(jobs);
        });
}

void BayController::findVehicles(const QString& query) {
    if (query.trimmed().isEmpty())
        return;
    // A scanner may send more than the VIN; what it is looked up by is the VIN alone.
    const std::string vin = core::vinFromScan(ui::toUtf8(query));
    const std::string words = core::isWellFormedVin(vin) ? vin : ui::toUtf8(query);
    database_.askNewest(
        QStringLiteral("bay vehicles"), this,
        [words](storage::Shop& shop) { return shop.vehicles().search(words, kMostHits); },
        [this, query](core::Result<std::vector<storage::VehicleHit>> hits) {
            if (!hits)
                return failed(hits.error());
            room_.sheet()->setVehicleResults(query, toResults(query, *hits));
        });
}

void BayController::chooseVehicle(const QVariant& key) {
    const ChosenVehicle chosen = chosenVehicle(key);
    if (chosen.known)
        return openVehicle(*chosen.known);
    SheetData data;
    data.card = cardForNew(chosen.fresh);
    data.card.vehicle.id = storage::makeId<core::VehicleId>();
    data.past.vehicle = data.card.vehicle;
    openFresh(std::move(data));
}

void BayController::startJobFor(const QString& scanned) {
    const std::string vin = core::vinFromScan(ui::toUtf8(scanned));
    const std::string words = core::isWellFormedVin(vin) ? vin : ui::toUtf8(scanned);
    database_.ask(
        this, [words](storage::Shop& shop) { return shop.vehicles().search(words, 2); },
        [this, scanned](core::Result<std::vector<storage::VehicleHit>> hits) {
            if (!hits)
                return failed(hits.error());
            if (hits->size() == 1)
                return openVehicle(hits->front().id);
            if (hits->empty())
                return chooseVehicle(toResults(scanned, {}).value(0).key);
            newJob();
            room_.sheet()->vehicleSearch()->setText(scanned);
            findVehicles(scanned);
        });
}

void BayController::openVehicle(core::VehicleId vehicle) {
    const int ticket = ++ticket_;
    database_.ask(
        this,
        [vehicle, rules = session_.settings(), today = session_.today()](storage::Shop& shop) {
            return readVehicleSheet(shop, vehicle, rules, today);
        },
        [this, ticket](core::Result<SheetData> data) {
            if (ticket != ticket_)
                return;
            if (!data)
                return failed(data.error());
            openFresh(std::move(*data));
        });
}

void BayController::openFresh(SheetData data) {
    const core::VehicleId vehicle = data.card.vehicle.id;
    data.card.job = freshCard().job;
    data.card.job.vehicle = vehicle;
    openSheet(data, data.card);
    inWork_.clear();
    QStringList actions;
    for (const auto& job : data.past.jobs)
        if (!job.isDelivered() && !job.isVoid()) {
            inWork_.push_back(job.id);
            actions << tr("Go on with job %1").arg(job.number);
        }
    if (!actions.isEmpty())
        room_.sheet()->showNotice(QStringLiteral("in-work"), tr("This vehicle has a job in work."), actions);
}

void BayController::readJob(core::JobId job) {
    const int ticket = ++ticket_;
    database_.ask(
        this,
        [job, rules = session_.settings(), today = session_.today()](storage::Shop& shop) {
            return readSheet(shop, job, rules, today);
        },
        [this, ticket](core::Result<SheetData> data) {
            if (ticket != ticket_)
                return;
            if (!data)
                return failed(data.error());
            openSheet(*data, data->card);
        });
}

void BayController::openSheet(const SheetData& data, const ui::JobCard& shown,
                              const std::map<std::string, std::string>& unfinished) {
    leaveSheet();
    room_.sheet()->open(data.card, shown, data.past, data.lives);
    room_.sheet()->form()->setUnfinished(unfinished);
    room_.showSheet();
    room_.sheet()->form()->focusFirst();
    watchDraft();
    emit roomWanted();
}

void BayController::showJobs(const std::vector<core::JobId>& jobs, const QString& why) {
    leaveSheet();
    given_ = jobs;
    room_.showJobs();
    room_.jobs()->showGiven(why);
    emit roomWanted();
}

} // namespace milehold::app
