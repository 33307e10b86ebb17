// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/bay_controller.h"

#include "app/desktop/error_sentence.h"
#include "core/shop/vin.h"
#include "storage/make_id.h"
#include "storage/shop.h"
#include "ui/bay/bay_room.h"
#include "ui/bay/merge_edits.h"
#include "ui/bay/vehicle_words.h"
#include "ui/widgets/text.h"

#include <QDateTime>
#include <QLocale>

#include <algorithm>

namespace milehold::app {
namespace {

constexpr std::size_t kMostHits = 12;
constexpr std::size_t kMostRows = 500;
const std::string kDraftPrefix = "job/";

std::string draftForm(core::JobId job) {
    return kDraftPrefix + core::toString(job.uuid);
}

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

QString momentText(core::Moment moment) {
    const auto local = QDateTime::fromMSecsSinceEpoch(moment.time_since_epoch().count());
    return QLocale().toString(local, QLocale::ShortFormat);
}

QString nameOf(const ui::JobCard& card) {
    const QString vehicle = ui::vehicleTitle(card.vehicle);
    return card.job.number > 0 ? BayController::tr("job %1, %2").arg(card.job.number).arg(vehicle)
                               : BayController::tr("new job, %1").arg(vehicle);
}

} // namespace

BayController::BayController(ui::BayRoom& room, Database& database, Session& session, SaveHistory& history,
                             QObject* parent)
    : QObject(parent), room_(room), database_(database), session_(session), history_(history),
      draft_(database) {
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
        [filter = filterFor(query, given_)](storage::Shop& shop) { return shop.jobs().rows(filter); },
        [this](core::Result<std::vector<storage::JobRow>> rows) {
            if (!rows) {
                room_.jobs()->setProblem(sentenceFor(rows.error()));
                return;
            }
            const bool more = rows->size() > kMostRows && room_.jobs()->query().shown != ui::JobsShown::Given;
            if (more)
                rows->resize(kMostRows);
            room_.jobs()->setJobs(toListRows(*rows, *session_.shelf(), *session_.lives()), more);
            if (selectAfterList_ && room_.jobs()->model()->rowOf(*selectAfterList_) >= 0) {
                room_.jobs()->selectJob(*selectAfterList_);
                selectAfterList_.reset();
            }
        });
}

void BayController::refreshDrafts() {
    database_.askNewest(
        QStringLiteral("bay drafts"), this, [](storage::Shop& shop) { return shop.drafts().list(); },
        [this](core::Result<std::vector<storage::Draft>> drafts) {
            if (!drafts)
                return failed(drafts.error());
            QList<ui::DraftOffer> offers;
            for (const auto& kept : *drafts) {
                if (!kept.form.starts_with(kDraftPrefix) || kept.form == draft_.form())
                    continue;
                const auto draft = cardDraftFromText(kept.text);
                offers.append({ui::toText(kept.form),
                               draft ? nameOf(draft->card) : tr("a job that cannot be read any more"),
                               momentText(kept.savedAt)});
            }
            room_.jobs()->setDrafts(offers);
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
            for (const auto& row : toListRows(*rows, *session_.shelf(), {})) {
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

void BayController::openJob(core::JobId job) {
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

void BayController::watchDraft() {
    const ui::JobForm* form = room_.sheet()->form();
    draft_.watch(draftForm(form->stored().job.id), [form]() -> std::string {
        if (!form->isEdited())
            return {};
        return toText(CardDraft{form->stored(), form->card(), form->unfinished()});
    });
}

void BayController::keepDraft() {
    draft_.flush();
}

void BayController::leaveSheet() {
    if (draft_.form().empty())
        return;
    const bool edited = room_.sheet()->form()->isEdited();
    const QString what = nameOf(room_.sheet()->form()->card());
    draft_.leave();
    refreshDrafts();
    if (edited)
        emit said(tr("Kept unfinished: %1").arg(what));
}

void BayController::backToList() {
    ++ticket_;
    leaveSheet();
    room_.showJobs();
}

void BayController::resumeDraft(const QString& key) {
    const int ticket = ++ticket_;
    database_.ask(
        this, [form = ui::toUtf8(key)](storage::Shop& shop) { return shop.drafts().find(form); },
        [this, ticket](core::Result<storage::Draft> kept) {
            if (ticket != ticket_)
                return;
            if (!kept)
                return failed(kept.error());
            const auto draft = cardDraftFromText(kept->text);
            if (!draft)
                return failed(draft.error());
            applyDraft(*draft);
        });
}

void BayController::applyDraft(const CardDraft& draft) {
    // A draft of a stored record is laid over what the record holds today.
    const int ticket = ++ticket_;
    const bool newJob = draft.stored.job.revision == 0;
    const bool newVehicle = draft.stored.vehicle.revision == 0;
    database_.ask(
        this,
        [draft, newJob, newVehicle, rules = session_.settings(),
         today = session_.today()](storage::Shop& shop) -> core::Result<SheetData> {
            if (!newJob)
                return readSheet(shop, draft.stored.job.id, rules, today);
            SheetData data;
            if (newVehicle) {
                data.past.vehicle = draft.stored.vehicle;
            } else {
                auto read = readVehicleSheet(shop, draft.stored.vehicle.id, rules, today);
                if (!read)
                    return read;
                data = std::move(*read);
            }
            data.card = {draft.stored.job, newVehicle ? draft.stored.vehicle : data.card.vehicle,
                         newVehicle ? draft.stored.customer : data.card.customer};
            return data;
        },
        [this, ticket, draft](core::Result<SheetData> data) {
            if (ticket != ticket_)
                return;
            if (!data)
                return failed(data.error());
            const bool moved = data->card.job.revision != draft.stored.job.revision;
            const ui::JobCard shown = ui::mergeEdits(data->card, draft.stored, draft.card);
            openSheet(*data, shown, draft.unfinished);
            draft_.touch();
            if (moved)
                room_.sheet()->showNotice(
                    QStringLiteral("draft"),
                    tr("Job %1 was changed after you typed this. Your changes stand on top of "
                       "what it holds now: look them over before you save.")
                        .arg(data->card.job.number),
                    {});
        });
}

} // namespace milehold::app
