// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/shelf/shelf_record.h"

#include <QWidget>

#include <map>
#include <string>

class QVBoxLayout;

namespace milehold::ui {

class FormGrid;

/// A form for one kind of record: a value in, a value out, no database.
class RecordForm : public QWidget {
    Q_OBJECT
public:
    explicit RecordForm(int columns, QWidget* parent = nullptr);

    /// What the choices of the form are filled with; what is typed stays.
    void setContents(const ShelfContents& contents);
    /// Shows a record; it must be of the form's kind.
    void setRecord(const ShelfRecord& record);
    /// Shows what was typed over the loaded record before, with the text that was no value yet.
    void setTyped(const ShelfRecord& record, const std::map<std::string, std::string>& unfinished = {});
    /// While some text cannot be read: the texts of all fields that hold a figure or a date, by object name.
    std::map<std::string, std::string> unfinished() const;
    /// The loaded record with the edits applied.
    ShelfRecord record() const;
    bool isEdited() const { return record() != loaded_ || !unreadable().empty(); }
    const ShelfRecord& loaded() const { return loaded_; }
    /// What core finds in it, and the texts that cannot be read, shown at their fields. Returns all of it.
    core::Findings showFindings();
    void clearFindings();
    /// Puts the keyboard into a field by its finding's name, or into the first one.
    void focusField(const QString& name = {});

signals:
    void edited(); ///< by the user
    /// Something that the form names is wanted: a superseding part, a path that fits it.
    void recordWanted(milehold::ui::ShelfSection section, const milehold::core::Uuid& id);

protected:
    virtual void fillChoices(const ShelfContents& contents) = 0;
    virtual void load(const ShelfRecord& record) = 0;
    virtual ShelfRecord typed(const ShelfRecord& loaded) const = 0;
    /// Findings for texts that are no number or no date.
    virtual core::Findings unreadable() const { return {}; }
    virtual QWidget* firstField() const = 0;
    /// After every edit and load: what depends on what is typed.
    virtual void refresh() {}

    FormGrid* grid() const { return grid_; }
    const ShelfContents& contents() const { return contents_; }
    QVBoxLayout* stack() const { return stack_; }
    /// Tells an edit, unless the form itself is being filled.
    void touched();

private:
    FormGrid* grid_;
    QVBoxLayout* stack_;
    ShelfContents contents_;
    ShelfRecord loaded_;
    bool hasRecord_ = false;
    bool loading_ = false;
};

} // namespace milehold::ui
