// SPDX-License-Identifier: GPL-3.0-or-later
// How the Bay saves: one transaction, an undo, and nothing typed is ever lost.
#include "app/desktop/bay_controller.h"
#include "app/desktop/conflict_rows.h"
#include "app/desktop/error_sentence.h"
#include "app/desktop/job_saves.h"
#include "storage/make_id.h"
#include "storage/shop.h"
#include "ui/bay/bay_room.h"
#include "ui/bay/merge_edits.h"
#include "ui/bay/vehicle_words.h"
#include "ui/widgets/text.h"

namespace milehold::app {
namespace {

/// What a save sends: the job, and vehicle and customer where they are new or were edited.
storage::JobBundle bundleOf(const ui::JobCard& stored, ui::JobCard card) {
    storage::JobBundle bundle;
    if (card.customer && (card.customer != stored.customer || card.customer->revision == 0)) {
        if (card.customer->id.isNull())
            card.customer->id = storage::makeId<core::CustomerId>();
        card.vehicle.customer = card.customer->id;
        bundle.customer = card.customer;
    }
    if (card.vehicle != stored.vehicle || card.vehicle.revision == 0)
        bundle.vehicle = card.vehicle;
    bundle.job = card.job;
    bundle.job.vehicle = card.vehicle.id;
    return bundle;
}

ui::JobCard cardOf(const storage::JobBundle& stored, const ui::JobCard& sent) {
    return {stored.job, stored.vehicle.value_or(sent.vehicle),
            stored.customer ? stored.customer : sent.customer};
}

struct Theirs {
    SheetData data;
    ChangeOfJob change;
    LastChange last;
};

/// Every field in which two cards differ.
QList<ui::ConflictRow> rowsOf(const ui::JobCard& mine, const ui::JobCard& theirs, const LoggedWords& words) {
    using storage::fieldTexts;
    auto rows = conflictRows(fieldTexts(mine.job), fieldTexts(theirs.job), words);
    rows += conflictRows(fieldTexts(mine.vehicle), fieldTexts(theirs.vehicle), words,
                         BayController::tr("Vehicle"));
    rows += conflictRows(fieldTexts(mine.customer.value_or(core::Customer{})),
                         fieldTexts(theirs.customer.value_or(core::Customer{})), words,
                         BayController::tr("Customer"));
    return rows;
}

} // namespace

void BayController::save() {
    ui::JobForm* form = room_.sheet()->form();
    const ui::JobCard mine = form->card();
    const storage::JobBundle bundle = bundleOf(form->stored(), mine);
    draft_.flush();
    room_.sheet()->setSaving(true);
    database_.ask(
        this, [bundle](storage::Shop& shop) { return saveBundle(shop, bundle); },
        [this, mine](core::Result<storage::JobBundle> outcome) {
            room_.sheet()->setSaving(false);
            if (outcome)
                saved(mine, *outcome);
            else
                notSaved(outcome.error(), mine);
        });
}

void BayController::saved(const ui::JobCard& mine, const storage::JobBundle& stored) {
    ui::JobForm* form = room_.sheet()->form();
    const core::Job& job = stored.job;
    const bool ours = form->stored().job.id == job.id;
    emit said(tr("Saved job %1. Undo: Ctrl+Z").arg(job.number));
    if (ours) {
        const ui::JobCard now = form->card();
        const ui::JobCard held = cardOf(stored, mine);
        if (now != mine || !form->unfinished().empty()) {
            // Somebody typed on while the save was under way: the sheet stays, on top of what is stored now.
            const auto unfinished = form->unfinished();
            form->setCard(held, ui::mergeEdits(held, mine, now));
            form->setUnfinished(unfinished);
            watchDraft();
            draft_.touch();
        } else {
            draft_.drop();
            form->setCard(held);
            room_.showJobs();
            const bool finished = job.isDelivered();
            const auto shown = room_.jobs()->query().shown;
            if (shown == ui::JobsShown::InWork && finished)
                room_.jobs()->setShown(ui::JobsShown::Finished);
            else if (shown == ui::JobsShown::Finished && !finished)
                room_.jobs()->setShown(ui::JobsShown::InWork);
            selectAfterList_ = job.id;
        }
    }
    database_.announceChange();
}

void BayController::notSaved(const core::Error& error, const ui::JobCard& mine) {
    if (error.code == core::ErrorCode::Conflict) {
        offerMerge(mine);
        return;
    }
    room_.sheet()->showNotice(QStringLiteral("problem"), sentenceFor(error), {});
    if (error.code != core::ErrorCode::InvalidInput)
        return;
    // The records say no where the form did not: it knew an older past of the vehicle.
    room_.sheet()->form()->showAllFindings();
    rereadPast();
}

void BayController::offerMerge(const ui::JobCard& mine) {
    database_.ask(
        this,
        [job = mine.job.id, vehicle = mine.vehicle.id,
         customer = mine.customer ? mine.customer->id : core::CustomerId{}, rules = session_.settings(),
         today = session_.today()](storage::Shop& shop) -> core::Result<Theirs> {
            auto data = readSheet(shop, job, rules, today);
            if (!data)
                return core::failureOf(data);
            auto change = whoChanged(shop, job);
            if (!change)
                return core::failureOf(change);
            auto last =
                lastChange(shop, {{"job", job.uuid}, {"vehicle", vehicle.uuid}, {"customer", customer.uuid}});
            if (!last)
                return core::failureOf(last);
            return Theirs{std::move(*data), std::move(*change), std::move(*last)};
        },
        [this](core::Result<Theirs> theirs) {
            if (!theirs) {
                room_.sheet()->showNotice(QStringLiteral("problem"), sentenceFor(theirs.error()), {});
                return;
            }
            const ui::JobForm* form = room_.sheet()->form();
            if (theirs->data.card.job.id != form->stored().job.id)
                return;
            const SheetData data = theirs->data;
            mergeMine_ = [this, data] {
                const ui::JobForm* open = room_.sheet()->form();
                const auto unfinished = open->unfinished();
                openSheet(data, ui::mergeEdits(data.card, open->stored(), open->card()), unfinished);
                draft_.touch();
            };
            takeTheirs_ = [this, data] {
                draft_.drop();
                openSheet(data, data.card);
            };
            compare_ = [this, data, heading = changedBy(theirs->last)] {
                const ui::JobCard typed = room_.sheet()->form()->card();
                const LoggedWords words{session_.shelf(), session_.staff(), session_.settings(),
                                        session_.unit(), QStringLiteral("\n")};
                auto* dialog = new ui::ConflictDialog(heading, rowsOf(typed, data.card, words),
                                                      tr("&Put my changes on top"),
                                                      tr("&Take what is stored"), room_.window());
                dialog->setAttribute(Qt::WA_DeleteOnClose);
                connect(dialog, &ui::ConflictDialog::mineChosen, this,
                        [this] { answerNotice(QStringLiteral("conflict"), 0); });
                connect(dialog, &ui::ConflictDialog::theirsChosen, this,
                        [this] { answerNotice(QStringLiteral("conflict"), 1); });
                dialog->open();
            };
            const auto& [name, fields] = theirs->change;
            const QString who = name.empty() ? tr("somebody else") : ui::toText(name);
            const QString job = QString::number(data.card.job.number);
            room_.sheet()->showNotice(
                QStringLiteral("conflict"),
                fields.empty()
                    ? tr("Not saved: meanwhile %1 saved job %2. What you typed is still here.").arg(who, job)
                    : tr("Not saved: meanwhile %1 changed job %2 (%3). What you typed is still here.")
                          .arg(who, job, ui::toText(fields)),
                {tr("Put my changes on top"), tr("Take what is stored"), tr("Compare")});
            compare_();
        });
}

void BayController::answerNotice(const QString& id, int action) {
    if (id == QLatin1String("conflict") && action == 2) {
        if (compare_)
            compare_();
        return;
    }
    room_.sheet()->removeNotice(id);
    if (id == QLatin1String("conflict")) {
        const auto act = action == 0 ? mergeMine_ : takeTheirs_;
        if (act)
            act();
    } else if (id == QLatin1String("in-work") && action >= 0 && action < static_cast<int>(inWork_.size())) {
        openJob(inWork_[static_cast<std::size_t>(action)]);
    }
}

void BayController::voidJob(const QString& reason) {
    const core::Job job = room_.sheet()->form()->stored().job;
    database_.ask(
        this,
        [job, why = ui::toUtf8(reason)](storage::Shop& shop) {
            return shop.jobs().voidJob(job.id, job.revision, why);
        },
        [this](core::Result<core::Job> outcome) {
            if (!outcome)
                return failed(outcome.error());
            emit said(tr("Job %1 is void and out of every figure. Undo: Ctrl+Z").arg(outcome->number));
            draft_.drop();
            room_.showJobs();
            database_.announceChange();
        });
}

void BayController::unvoidJob() {
    const core::Job job = room_.sheet()->form()->stored().job;
    database_.ask(
        this, [job](storage::Shop& shop) { return shop.jobs().unvoidJob(job.id, job.revision); },
        [this](core::Result<core::Job> outcome) {
            if (!outcome)
                return failed(outcome.error());
            emit said(tr("Job %1 counts again. Undo: Ctrl+Z").arg(outcome->number));
            draft_.drop();
            openJob(outcome->id);
            database_.announceChange();
        });
}

void BayController::replaceInstrument(const core::OdometerReading& reading) {
    core::OdometerReading made = reading;
    made.id = storage::makeId<core::OdometerId>();
    database_.ask(
        this, [made](storage::Shop& shop) { return shop.vehicles().saveOdometer(made); },
        [this](core::Result<core::OdometerReading> kept) {
            if (!kept)
                return failed(kept.error());
            emit said(tr("The new instrument is read from here on. Undo: Ctrl+Z"));
            rereadPast();
            database_.announceChange();
        });
}

void BayController::rereadPast() {
    database_.ask(
        this,
        [vehicle = room_.sheet()->form()->stored().vehicle.id, rules = session_.settings(),
         today = session_.today()](storage::Shop& shop) {
            return readVehicleSheet(shop, vehicle, rules, today);
        },
        [this](core::Result<SheetData> data) {
            if (!data)
                return failed(data.error());
            if (data->card.vehicle.id == room_.sheet()->form()->stored().vehicle.id)
                room_.sheet()->setPast(data->past, data->lives);
        });
}

void BayController::reloadIfUntouched() {
    if (!room_.isSheetOpen() || room_.sheet()->isAskingForVehicle())
        return;
    const ui::JobForm* form = room_.sheet()->form();
    if (form->stored().job.revision == 0 || form->isEdited())
        return;
    database_.ask(
        this,
        [job = form->stored().job.id, rules = session_.settings(),
         today = session_.today()](storage::Shop& shop) { return readSheet(shop, job, rules, today); },
        [this](core::Result<SheetData> data) {
            if (!data)
                return failed(data.error());
            const ui::JobForm* open = room_.sheet()->form();
            if (open->isEdited() || open->stored().job.id != data->card.job.id ||
                open->stored() == data->card)
                return;
            room_.sheet()->open(data->card, data->card, data->past, data->lives);
            watchDraft();
        });
}

} // namespace milehold::app
