// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/desktop/database.h"

#include <QObject>
#include <QString>

#include <functional>
#include <vector>

namespace milehold::app {

/// A save that can be taken back and done again. Both ways go through a store's own save, so that rules,
/// revisions and the change log hold for them too.
struct ReversibleSave {
    QString what; ///< "the job 41 of Ida's wagon": completes "Undo: ..."
    std::function<core::Result<void>(storage::Shop&)> undo;
    std::function<core::Result<void>(storage::Shop&)> redo;
};

/// The saves of this window, newest last. A failed undo leaves the history as it was.
class SaveHistory : public QObject {
    Q_OBJECT
public:
    explicit SaveHistory(Database& database, QObject* parent = nullptr)
        : QObject(parent), database_(database) {}

    void push(ReversibleSave save);
    /// Forgets all: another state of the shop is opened.
    void clear();
    void undo();
    void redo();
    bool canUndo() const { return done_ > 0 && !busy_; }
    bool canRedo() const { return done_ < saves_.size() && !busy_; }
    QString undoText() const { return done_ > 0 ? saves_[done_ - 1].what : QString(); }
    QString redoText() const { return done_ < saves_.size() ? saves_[done_].what : QString(); }

signals:
    void changed();
    void undone(const QString& what);
    void redone(const QString& what);
    void failed(const milehold::core::Error& error);

private:
    Database& database_;
    std::vector<ReversibleSave> saves_;
    std::size_t done_ = 0;
    bool busy_ = false;
};

} // namespace milehold::app
