// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/shelf_controller.h"

#include "app/desktop/conflict_rows.h"
#include "app/desktop/error_sentence.h"
#include "app/desktop/shelf_draft.h"
#include "storage/records/stored.h"
#include "storage/shop.h"

namespace milehold::app {
namespace {

/// A note's text is too long for the status line.
QString spokenName(const ui::ShelfRecord& record) {
    const QString name = ui::nameOf(record);
    const bool isShort = !name.isEmpty() && ui::sectionOf(record) != ui::ShelfSection::Notes;
    return isShort ? name : ShelfController::tr("The %1").arg(ui::kindOf(record));
}

} // namespace

ShelfController::ShelfController(ui::ShelfRoom& room, Database& database, Session& session, QObject* parent)
    : QObject(parent), room_(room), database_(database), session_(session), draft_(database) {
    connect(&session_, &Session::shelfChanged, this, &ShelfController::show);
    connect(&session_, &Session::staffChanged, this, &ShelfController::show);
    connect(&session_, &Session::settingsChanged, this, &ShelfController::show);
    connect(&room_, &ui::ShelfRoom::saveWanted, this, &ShelfController::save);
    connect(&room_, &ui::ShelfRoom::removeWanted, this, &ShelfController::remove);
    connect(&room_, &ui::ShelfRoom::draftChanged, this, &ShelfController::keepTyped);
    connect(&draft_, &DraftKeeper::failed, this,
            [this](const core::Error& error) { emit said(sentenceFor(error)); });
    show();
    offerDrafts();
}

void ShelfController::keepTyped(const ui::ShelfRecord& record) {
    const std::string form = shelfDraftForm(record);
    if (!room_.drafts().contains(ui::idOf(record))) { // saved, or taken back
        if (draft_.form() == form)
            draft_.drop();
        else
            draft_.dropForm(form);
        return;
    }
    if (draft_.form() != form)
        draft_.watch(form, [this, id = ui::idOf(record)] {
            const auto draft = room_.drafts().find(id);
            return draft == room_.drafts().end() ? std::string() : toText(draft->second);
        });
    draft_.touch();
}

void ShelfController::offerDrafts() {
    database_.ask(
        this, [](storage::Shop& shop) { return shop.drafts().list(); },
        [this](core::Result<std::vector<storage::Draft>> kept) {
            if (!kept) {
                if (kept.error().code != core::ErrorCode::NotFound)
                    emit said(sentenceFor(kept.error()));
                return;
            }
            QStringList names;
            std::optional<ui::ShelfRecord> newest;
            const ui::ShelfContents now{*session_.shelf(), session_.staff(), session_.settings(), {}};
            for (const storage::Draft& one : *kept) {
                if (!isShelfDraft(one.form))
                    continue;
                const auto draft = shelfDraftFromText(one.text);
                if (!draft) {
                    names << tr("one that cannot be read any more");
                    continue;
                }
                // Killed between a save and the forgetting of its draft: it is stored already.
                auto stored = ui::storedRecord(now, ui::sectionOf(draft->typed), ui::idOf(draft->typed));
                if (stored)
                    ui::setRevision(*stored, ui::revisionOf(draft->typed));
                if (stored && *stored == draft->typed && draft->unfinished.empty()) {
                    draft_.dropForm(one.form);
                    continue;
                }
                room_.restoreDraft(*draft);
                names << spokenName(draft->typed);
                if (!newest)
                    newest = draft->typed;
            }
            if (newest)
                emit draftsFound(names, *newest);
        });
}

void ShelfController::show() {
    if (!taking_)
        room_.setContents({*session_.shelf(), session_.staff(), session_.settings(), session_.today()});
}

void ShelfController::save(const ui::ShelfRecord& record) {
    const QString name = spokenName(record);
    database_.ask(
        this, [record](storage::Shop& shop) { return putOnShelf(shop, record); },
        [this, name, record, id = ui::idOf(record)](core::Result<ShelfChange> outcome) {
            if (!outcome && outcome.error().code == core::ErrorCode::Conflict)
                compare(record);
            finish(id, std::move(outcome), tr("%1 saved").arg(name));
        });
}

void ShelfController::compare(const ui::ShelfRecord& mine) {
    struct Theirs {
        ui::ShelfRecord record;
        ui::ShelfRecord merged; ///< theirs with what was typed here
        LastChange last;
    };
    const auto draft = room_.drafts().find(ui::idOf(mine));
    const ui::ShelfRecord base = draft == room_.drafts().end() ? mine : draft->second.base;
    database_.ask(
        this,
        [mine, base](storage::Shop& shop) -> core::Result<Theirs> {
            const auto snapshot = readSnapshot(shop);
            if (!snapshot)
                return core::failureOf(snapshot);
            const ui::ShelfContents contents{snapshot->shelf, snapshot->staff, snapshot->settings, {}};
            const auto stored = ui::storedRecord(contents, ui::sectionOf(mine), ui::idOf(mine));
            if (!stored)
                return core::fail(core::ErrorCode::NotFound, "somebody else removed it");
            const bool isShop = ui::sectionOf(mine) == ui::ShelfSection::Shop;
            auto last = lastChange(
                shop, {{tableOf(mine), isShop ? storage::StoredSettings::kId.uuid : ui::idOf(mine)}});
            if (!last)
                return core::failureOf(last);
            auto merged = withMyEdits(base, mine, *stored);
            if (!merged)
                return core::failureOf(merged);
            return Theirs{*stored, std::move(*merged), std::move(*last)};
        },
        [this, mine](core::Result<Theirs> theirs) {
            if (!theirs) {
                room_.showFailure(ui::idOf(mine), sentenceFor(theirs.error()));
                return;
            }
            const LoggedWords words{session_.shelf(), session_.staff(), session_.settings(), session_.unit(),
                                    QStringLiteral("\n")};
            const auto textsOf = [](const ui::ShelfRecord& record) {
                return std::visit([](const auto& row) { return storage::fieldTexts(row); }, record);
            };
            auto* dialog =
                new ui::ConflictDialog(changedBy(theirs->last),
                                       conflictRows(textsOf(theirs->merged), textsOf(theirs->record), words),
                                       tr("&Save mine instead"), tr("&Take what is stored"), room_.window());
            dialog->setAttribute(Qt::WA_DeleteOnClose);
            connect(dialog, &ui::ConflictDialog::mineChosen, this,
                    [this, again = theirs->merged] { save(again); });
            connect(dialog, &ui::ConflictDialog::theirsChosen, this, [this, id = ui::idOf(mine)] {
                room_.showSaved(id); // what was typed over it is given up
                database_.announceChange();
            });
            dialog->open();
        });
}

void ShelfController::remove(const ui::ShelfRecord& record) {
    const QString name = spokenName(record);
    database_.ask(
        this, [record](storage::Shop& shop) { return takeOffShelf(shop, record); },
        [this, name, id = ui::idOf(record)](core::Result<ShelfChange> outcome) {
            finish(id, std::move(outcome), tr("%1 removed").arg(name));
        });
}

void ShelfController::finish(const core::Uuid& id, core::Result<ShelfChange> outcome, const QString& saying) {
    if (!outcome) {
        room_.showFailure(id, sentenceFor(outcome.error()));
        return;
    }
    ShelfSnapshot now = std::move(outcome->now);
    taking_ = true;
    if (now.settings != session_.settings())
        session_.setSettings(now.settings);
    if (now.shelf != *session_.shelf())
        session_.setShelf(std::move(now.shelf));
    if (now.staff != session_.staff())
        session_.setStaff(std::move(now.staff));
    taking_ = false;
    show();
    room_.showSaved(id);
    database_.announceChange();
    emit said(saying);
}

} // namespace milehold::app
