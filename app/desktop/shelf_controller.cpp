// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/shelf_controller.h"

#include "app/desktop/error_sentence.h"

namespace milehold::app {
namespace {

/// A note's text is too long for the status line.
QString spokenName(const ui::ShelfRecord& record) {
    const QString name = ui::nameOf(record);
    const bool isShort = !name.isEmpty() && ui::sectionOf(record) != ui::ShelfSection::Notes;
    return isShort ? name : ShelfController::tr("The %1").arg(ui::kindOf(record));
}

} // namespace

ShelfController::ShelfController(ui::ShelfRoom& room, Database& database, Session& session,
                                 QObject* parent)
    : QObject(parent), room_(room), database_(database), session_(session) {
    connect(&session_, &Session::shelfChanged, this, &ShelfController::show);
    connect(&session_, &Session::staffChanged, this, &ShelfController::show);
    connect(&session_, &Session::settingsChanged, this, &ShelfController::show);
    connect(&room_, &ui::ShelfRoom::saveWanted, this, &ShelfController::save);
    connect(&room_, &ui::ShelfRoom::removeWanted, this, &ShelfController::remove);
    show();
}

void ShelfController::show() {
    if (!taking_)
        room_.setContents({*session_.shelf(), session_.staff(), session_.settings(), session_.today()});
}

void ShelfController::save(const ui::ShelfRecord& record) {
    const QString name = spokenName(record);
    database_.ask(
        this, [record](storage::Shop& shop) { return putOnShelf(shop, record); },
        [this, name, id = ui::idOf(record)](core::Result<ShelfChange> outcome) {
            finish(id, std::move(outcome), tr("%1 saved").arg(name));
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
