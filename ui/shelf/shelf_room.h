// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/shelf/shelf_rows.h"

#include <QWidget>

class QLabel;
class QLineEdit;
class QPushButton;
class QShortcut;

namespace milehold::ui {

class DetailPane;
class RecordTable;
class ShelfIndex;
class ShelfTableModel;

/// The Shelf: what the shop knows and trusts, for a while. Drawers at the left, what is in one, and one
/// record in full.
///
/// Everything goes by keys: arrows in the drawers and the list, Return into the form, Escape back to the
/// list, Ctrl+N adds, Ctrl+F filters, Ctrl+S saves, Ctrl+T says "checked today", and so
/// does Space in the list of what wants checking. What was typed stays with its record until
/// it is saved or taken back, whatever is looked at meanwhile.
class ShelfRoom : public QWidget {
    Q_OBJECT
public:
    explicit ShelfRoom(QWidget* parent = nullptr);

    /// Everything on the shelf as stored now.
    void setContents(const ShelfContents& contents);
    /// The record was saved, or removed: what was typed over it is stored, or pointless.
    void showSaved(const core::Uuid& id);
    /// The record was not saved; `sentence` says why. What was typed stays.
    void showFailure(const core::Uuid& id, const QString& sentence);

    ShelfSection section() const;
    void showSection(ShelfSection section);
    void openRecord(ShelfSection section, const core::Uuid& id);
    /// A new note about something on the shelf.
    void writeNote(core::ShelfSubject subject, const core::Uuid& about);
    /// Something was typed and not saved.
    bool hasUnsaved() const { return !drafts_.empty(); }
    const ShelfDrafts& drafts() const { return drafts_; }
    /// What was typed here before the program ended: it stands over its record again. Where something was
    /// typed meanwhile that stays.
    void restoreDraft(const ShelfDraft& draft);

signals:
    /// A new record bears an id made here and revision 0.
    void saveWanted(const milehold::ui::ShelfRecord& record);
    /// The record as it was read.
    void removeWanted(const milehold::ui::ShelfRecord& record);
    /// What stands typed over a record changed, or it is saved, taken back or dropped: see drafts().
    void draftChanged(const milehold::ui::ShelfRecord& record);

protected:
    bool eventFilter(QObject* watched, QEvent* event) override;

private:
    QWidget* makeList();
    void addShortcuts();
    void showList();
    /// `keep`: the row that should be current, else the nearest one.
    void refreshList(const core::Uuid& keep);
    void showRow(int row);
    void showNothing();
    void add(ShelfRecord record);
    void keepDraft();
    /// What is typed over a record that came or went is held against that.
    void settleDrafts();
    void dropDraft(const core::Uuid& id);
    /// Says over the form that somebody else changed what is typed over.
    void tellMoved();
    void removeCurrent();
    void checkedToday();
    std::optional<ShelfRecord> recordOf(ShelfSection section, const core::Uuid& id) const;

    ShelfContents contents_;
    ShelfDrafts drafts_;
    std::optional<core::Uuid> saving_;
    std::optional<ShelfRecord> saved_; ///< as it was handed out to be saved: what is typed meanwhile is kept
    core::Uuid current_;
    bool refreshing_ = false;
    ShelfIndex* index_;
    QWidget* listColumn_;
    QLabel* listTitle_;
    QLabel* hint_;
    QLineEdit* filter_;
    QPushButton* add_;
    RecordTable* table_;
    ShelfTableModel* model_;
    DetailPane* detail_;
};

} // namespace milehold::ui
