// SPDX-License-Identifier: GPL-3.0-or-later
// What is typed over the records of the Shelf and not saved, while others change them.
#include "ui/shelf/detail_pane.h"
#include "ui/shelf/record_form.h"
#include "ui/shelf/shelf_room.h"
#include "ui/shelf/shelf_table_model.h"
#include "ui/widgets/record_table.h"

namespace milehold::ui {

void ShelfRoom::settleDrafts() {
    for (auto& [id, draft] : drafts_) {
        const auto stored = storedRecord(contents_, sectionOf(draft.base), id);
        if (!stored && revisionOf(draft.base) != 0) {
            // What somebody else removed is new again: a save puts it back.
            setRevision(draft.base, 0);
            setRevision(draft.typed, 0);
        } else if (stored && revisionOf(draft.base) == 0 && saving_ != id) {
            // Stored for the first time, and then the program ended.
            draft.base = *stored;
            setRevision(draft.typed, revisionOf(*stored));
        }
    }
}

void ShelfRoom::tellMoved() {
    const auto draft = drafts_.find(current_);
    if (draft == drafts_.end() || saving_ == current_)
        return;
    const auto stored = storedRecord(contents_, sectionOf(draft->second.base), current_);
    if (stored && revisionOf(*stored) != revisionOf(draft->second.base))
        detail_->setTrouble(
            tr("Somebody else saved this while you typed. Save to see both versions side by side."));
}

void ShelfRoom::restoreDraft(const ShelfDraft& draft) {
    const core::Uuid id = idOf(draft.typed);
    if (drafts_.contains(id))
        return;
    drafts_[id] = draft;
    setContents(ShelfContents(contents_));
}

void ShelfRoom::keepDraft() {
    const ShelfRecord typed = detail_->record();
    if (detail_->isEdited() || (revisionOf(typed) == 0 && sectionOf(typed) != ShelfSection::Shop))
        drafts_[idOf(typed)] = {detail_->form()->loaded(), typed, detail_->form()->unfinished()};
    else
        drafts_.erase(idOf(typed));
    emit draftChanged(typed);
    if (section() == ShelfSection::Shop)
        return;
    // Only the list is redrawn: the form holds the keyboard and what was typed.
    refreshing_ = true;
    const core::Uuid id = idOf(typed);
    model_->setTable(shelfTable(section(), contents_, drafts_));
    table_->setCurrentRecord(model_->rowOf(id));
    refreshing_ = false;
}

void ShelfRoom::dropDraft(const core::Uuid& id) {
    const auto draft = drafts_.find(id);
    if (draft == drafts_.end())
        return;
    const ShelfRecord record = draft->second.base;
    drafts_.erase(draft);
    emit draftChanged(record);
}

void ShelfRoom::showSaved(const core::Uuid& id) {
    const auto draft = drafts_.find(id);
    const auto stored =
        draft != drafts_.end() ? storedRecord(contents_, sectionOf(draft->second.base), id) : std::nullopt;
    if (saving_ == id && saved_ && stored && draft->second.typed != *saved_) {
        // Typed on while it was being saved: that now stands over what is stored.
        draft->second.base = *stored;
        setRevision(draft->second.typed, revisionOf(*stored));
        emit draftChanged(draft->second.base);
    } else {
        dropDraft(id);
    }
    if (saving_ == id)
        saving_.reset();
    detail_->setBusy(false);
    refreshList(current_);
}

void ShelfRoom::showFailure(const core::Uuid& id, const QString& sentence) {
    if (saving_ == id)
        saving_.reset();
    detail_->setBusy(false);
    if (id == current_ || id.isNull())
        detail_->setTrouble(sentence);
}

} // namespace milehold::ui
