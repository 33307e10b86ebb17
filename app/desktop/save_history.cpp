// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/save_history.h"

#include "app/desktop/record_history.h"
#include "storage/shop.h"
#include "storage/undo_store.h"
#include "ui/widgets/text.h"

namespace milehold::app {

namespace {

QString kindWord(const std::string& table) {
    if (table == "job")
        return SaveHistory::tr("job");
    if (table == "follow_up")
        return SaveHistory::tr("the call on job");
    if (table == "vehicle")
        return SaveHistory::tr("vehicle");
    if (table == "customer")
        return SaveHistory::tr("customer");
    if (table == "odometer")
        return SaveHistory::tr("an odometer reading");
    if (table == "shop")
        return SaveHistory::tr("the shop's settings");
    if (table == "staff")
        return SaveHistory::tr("person");
    if (table == "engine_family")
        return SaveHistory::tr("engine family");
    if (table == "repair_path")
        return SaveHistory::tr("repair path");
    if (table == "part_number")
        return SaveHistory::tr("part number");
    if (table == "calibration")
        return SaveHistory::tr("calibration");
    return SaveHistory::tr("a note");
}

QString wordsOf(const storage::SaveStep& step) {
    const QString kind = kindWord(step.table);
    return step.label.empty() ? kind : SaveHistory::tr("%1 %2").arg(kind, ui::toText(step.label));
}

/// An outcome with the people who may have to be named.
struct Reversed {
    storage::UndoOutcome outcome;
    std::vector<core::Staff> people;
};

core::Result<Reversed> reverseIn(storage::Shop& shop, bool again, const std::string& reason) {
    auto outcome = again ? storage::undoOf(shop).redo(reason) : storage::undoOf(shop).undo(reason);
    if (!outcome)
        return core::failureOf(outcome);
    auto people = shop.staff().list();
    if (!people)
        return core::failureOf(people);
    return Reversed{std::move(*outcome), std::move(*people)};
}

QString refusal(const Reversed& reversed) {
    const QString what = wordsOf(reversed.outcome.step);
    if (reversed.outcome.forgotten)
        return SaveHistory::tr("Left as it is: what %1 held was forgotten on a customer's request.")
            .arg(what);
    if (!reversed.outcome.since)
        return SaveHistory::tr("Left as it is: %1 was changed since.").arg(what);
    const auto& since = *reversed.outcome.since;
    return SaveHistory::tr("Left as it is: %1 was changed since, by %2 on %3.")
        .arg(what, personWord(since.who.staff, reversed.people), momentWord(since.at));
}

} // namespace

SaveHistory::SaveHistory(Database& database, QObject* parent) : QObject(parent), database_(database) {
    connect(&database_, &Database::changed, this, &SaveHistory::refresh);
}

void SaveHistory::clear() {
    undoText_.clear();
    redoText_.clear();
    emit changed();
}

void SaveHistory::refresh() {
    database_.askNewest(
        QStringLiteral("saves"), this, [](storage::Shop& shop) { return storage::undoOf(shop).state(); },
        [this](core::Result<storage::UndoState> state) {
            // A list that cannot be read offers nothing; the save that is tried next says why.
            undoText_ = state && state->undo ? wordsOf(*state->undo) : QString();
            redoText_ = state && state->redo ? wordsOf(*state->redo) : QString();
            emit changed();
        });
}

void SaveHistory::undo() {
    reverse(false);
}

void SaveHistory::redo() {
    reverse(true);
}

void SaveHistory::reverse(bool again) {
    const std::string reason = tr("Taken back right after it was saved").toStdString();
    database_.ask(
        this, [again, reason](storage::Shop& shop) { return reverseIn(shop, again, reason); },
        [this, again](core::Result<Reversed> reversed) {
            if (!reversed && reversed.error().code == core::ErrorCode::NotFound)
                return;
            if (!reversed) {
                emit failed(reversed.error());
                return;
            }
            if (!reversed->outcome.done) {
                emit refused(refusal(*reversed));
                return;
            }
            const QString what = wordsOf(reversed->outcome.step);
            database_.announceChange();
            if (again)
                emit redone(what);
            else
                emit undone(what);
        });
}

} // namespace milehold::app
