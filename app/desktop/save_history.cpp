// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/save_history.h"

namespace milehold::app {

void SaveHistory::push(ReversibleSave save) {
    saves_.resize(done_); // what was undone before a new save cannot be redone after it
    saves_.push_back(std::move(save));
    ++done_;
    emit changed();
}

void SaveHistory::clear() {
    saves_.clear();
    done_ = 0;
    emit changed();
}

void SaveHistory::undo() {
    if (!canUndo())
        return;
    busy_ = true;
    const ReversibleSave save = saves_[done_ - 1];
    database_.ask(this, save.undo, [this, what = save.what](core::Result<void> outcome) {
        busy_ = false;
        if (!outcome) {
            emit failed(outcome.error());
        } else {
            --done_;
            emit undone(what);
            database_.announceChange();
        }
        emit changed();
    });
}

void SaveHistory::redo() {
    if (!canRedo())
        return;
    busy_ = true;
    const ReversibleSave save = saves_[done_];
    database_.ask(this, save.redo, [this, what = save.what](core::Result<void> outcome) {
        busy_ = false;
        if (!outcome) {
            emit failed(outcome.error());
        } else {
            ++done_;
            emit redone(what);
            database_.announceChange();
        }
        emit changed();
    });
}

} // namespace milehold::app
