// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/desktop/database.h"
#include "core/shop/people.h"

#include <QObject>
#include <QString>

#include <vector>

namespace milehold::app {

/// Takes the saves of this station back and does them again, newest first, from the change log: also those
/// from before the program was started. What is to be said of each comes as words.
class SaveHistory : public QObject {
    Q_OBJECT
public:
    explicit SaveHistory(Database& database, QObject* parent = nullptr);

    /// Forgets all: another state of the shop is opened.
    void clear();
    /// Reads anew what can be taken back; by itself after each save.
    void refresh();
    void undo();
    void redo();
    bool canUndo() const { return !undoText_.isEmpty(); }
    bool canRedo() const { return !redoText_.isEmpty(); }
    /// `job 41`: completes "Take back: ..."; blank when there is nothing.
    QString undoText() const { return undoText_; }
    QString redoText() const { return redoText_; }

signals:
    void changed();
    void undone(const QString& what);
    void redone(const QString& what);
    /// Not done, because the record was changed since; a sentence that says by whom and when.
    void refused(const QString& sentence);
    void failed(const milehold::core::Error& error);

private:
    void reverse(bool again);

    Database& database_;
    QString undoText_;
    QString redoText_;
};

} // namespace milehold::app
