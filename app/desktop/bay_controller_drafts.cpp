// SPDX-License-Identifier: GPL-3.0-or-later
// How the Bay keeps what is half typed, and offers it again.
#include "app/desktop/bay_controller.h"
#include "app/desktop/error_sentence.h"
#include "storage/shop.h"
#include "ui/bay/bay_room.h"
#include "ui/bay/merge_edits.h"
#include "ui/bay/vehicle_words.h"
#include "ui/widgets/text.h"

#include <QDateTime>
#include <QLocale>

namespace milehold::app {
namespace {

const std::string kDraftPrefix = "job/";

std::string draftForm(core::JobId job) {
    return kDraftPrefix + core::toString(job.uuid);
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

void BayController::dropSheet() {
    ++ticket_;
    draft_.drop();
    room_.showJobs();
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

void BayController::openJob(core::JobId job) {
    // What was typed into it before and not saved comes with it: opened without, the next keystroke would be
    // kept in its place.
    draft_.flush();
    const int ticket = ++ticket_;
    using Kept = std::optional<storage::Draft>;
    database_.ask(
        this,
        [form = draftForm(job)](storage::Shop& shop) -> core::Result<Kept> {
            auto kept = shop.drafts().find(form);
            if (kept)
                return Kept(std::move(*kept));
            if (kept.error().code == core::ErrorCode::NotFound)
                return Kept();
            return core::failureOf(kept);
        },
        [this, ticket, job](core::Result<Kept> kept) {
            if (ticket != ticket_)
                return;
            if (!kept)
                return failed(kept.error());
            if (*kept) {
                const auto draft = cardDraftFromText((*kept)->text);
                if (draft)
                    return applyDraft(*draft, true);
                // The record opens as it is; what cannot be read is told, for the next keystroke takes its
                // place.
                failed(draft.error());
            }
            readJob(job);
        });
}

void BayController::applyDraft(const CardDraft& draft, bool said) {
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
        [this, ticket, draft, said](core::Result<SheetData> data) {
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
            else if (said)
                room_.sheet()->showNotice(QStringLiteral("draft"),
                                          tr("What you had typed here and not saved is back."), {});
        });
}

} // namespace milehold::app
