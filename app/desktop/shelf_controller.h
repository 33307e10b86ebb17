// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/desktop/database.h"
#include "app/desktop/draft_keeper.h"
#include "app/desktop/session.h"
#include "app/desktop/shelf_saves.h"
#include "ui/shelf/shelf_room.h"

#include <QObject>

namespace milehold::app {

/// Joins the Shelf with the shop: shows what the session holds, saves through the stores, and lets every save
/// be undone.
class ShelfController : public QObject {
    Q_OBJECT
public:
    ShelfController(ui::ShelfRoom& room, Database& database, Session& session, QObject* parent = nullptr);

    /// Puts what is being typed on disk at once.
    void keepDraft() { draft_.flush(); }

signals:
    /// A passing note for the status line: `LP-4410 C saved`.
    void said(const QString& what);
    /// What was typed before the program ended stands in the room again; `names` say over which records.
    void draftsFound(const QStringList& names, const milehold::ui::ShelfRecord& newest);

private:
    void show();
    void save(const ui::ShelfRecord& record);
    void remove(const ui::ShelfRecord& record);
    void keepTyped(const ui::ShelfRecord& record);
    void offerDrafts();
    void compare(const ui::ShelfRecord& mine);
    void finish(const core::Uuid& id, core::Result<ShelfChange> outcome, const QString& said);

    ui::ShelfRoom& room_;
    Database& database_;
    Session& session_;
    DraftKeeper draft_;
    bool taking_ = false; ///< a change of ours is on its way into the session
};

} // namespace milehold::app
