// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/shelf/shelf_rows.h"

#include <QWidget>

#include <array>

class QLabel;
class QPushButton;
class QToolButton;
class QScrollArea;
class QVBoxLayout;

namespace milehold::ui {

class InlineFinding;
class NotesStrip;
class RecordForm;
class StatusLabel;

/// One record of the shelf in full: its name and state, its form, the notes on it, and what can be done.
class DetailPane : public QWidget {
    Q_OBJECT
public:
    explicit DetailPane(QWidget* parent = nullptr);

    void setContents(const ShelfContents& contents);
    /// Shows `record`, or what was typed over it when that is given: then what the typing started from is
    /// what a save is held against. Keeps the keyboard where it is.
    void setRecord(const ShelfRecord& record, const ShelfDraft* draft = nullptr);
    /// Nothing is chosen; says what to do first.
    void clear(const QString& title, const QString& text);

    bool hasRecord() const { return form_ != nullptr; }
    ShelfRecord record() const;
    bool isEdited() const;
    void focusForm(const QString& field = {});
    void setBusy(bool busy);
    /// A sentence over the form that stays until the next edit or save; blank hides it.
    void setTrouble(const QString& sentence);
    /// Fills today into the form as an edit.
    void markCheckedToday();
    RecordForm* form() const { return form_; }
    /// "Checked today" is what this page is for, saving comes second.
    void setCheckFirst(bool first);

public slots:
    /// Saves when nothing stands against it, else goes to the field that does.
    void save();
    void takeBack();

signals:
    void edited(); ///< by the user: record() is worth keeping
    void saveWanted(const milehold::ui::ShelfRecord& record);
    void takenBack();
    void removeWanted();
    void checkedTodayWanted();
    void recordWanted(milehold::ui::ShelfSection section, const milehold::core::Uuid& id);
    void noteWanted(); ///< a new note on this record

protected:
    /// Tab goes through a form as it is read, whatever the order in which its fields were made.
    bool focusNextPrevChild(bool next) override;

private:
    RecordForm* formFor(ShelfSection section);
    void showState();
    void showNotes();

    ShelfContents contents_;
    std::array<RecordForm*, kShelfSections> forms_{};
    RecordForm* form_ = nullptr;
    bool busy_ = false;
    bool checkFirst_ = false;
    QWidget* page_;
    QWidget* empty_;
    QLabel* emptyTitle_;
    QLabel* emptyText_;
    QLabel* kind_;
    QLabel* name_;
    StatusLabel* status_;
    QPushButton* checked_;
    QToolButton* remove_;
    InlineFinding* trouble_;
    QScrollArea* scroll_;
    QVBoxLayout* stack_;
    NotesStrip* notes_;
    QPushButton* save_;
    QPushButton* takeBack_;
    QLabel* state_;
};

} // namespace milehold::ui
