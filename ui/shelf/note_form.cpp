// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/shelf/note_form.h"

#include "ui/shelf/choices.h"
#include "ui/shelf/plain_fields.h"
#include "ui/widgets/form_grid.h"

#include <QLineEdit>

namespace milehold::ui {

NoteForm::NoteForm(QWidget* parent)
    : RecordForm(2, parent), kind_(new QComboBox(this)),
      subject_(new IdCombo(tr("Choose what it is about"), this)), text_(new TextField(4, this)),
      source_(new QLineEdit(this)), freshness_(new FreshnessFields(this)) {
    fillWithLabels<core::ShelfSubject>(*kind_);
    source_->setPlaceholderText(tr("service letter, supplier, our own jobs …"));
    grid()->addField(tr("Note on a&n"), kind_, QStringLiteral("subject"));
    grid()->addField(tr("&Which one"), subject_, QStringLiteral("subjectId"));
    grid()->addField(tr("&Note"), text_, QStringLiteral("text"), 0);
    grid()->addField(tr("Wher&e it comes from"), source_, QStringLiteral("source"), 0);
    grid()->addField(tr("Chec&ked on"), freshness_, QStringLiteral("freshness"), 0);

    connect(kind_, &QComboBox::activated, this, [this] {
        fillSubjects();
        subject_->setChosen(std::nullopt);
        touched();
    });
    connect(subject_, &IdCombo::edited, this, &NoteForm::touched);
    connect(text_, &TextField::edited, this, &NoteForm::touched);
    connect(source_, &QLineEdit::textEdited, this, &NoteForm::touched);
    connect(freshness_, &FreshnessFields::edited, this, &NoteForm::touched);
}

void NoteForm::fillSubjects() {
    subject_->setItems(subjectChoices(contents().shelf, chosen<core::ShelfSubject>(*kind_)));
}

void NoteForm::fillChoices(const ShelfContents& contents) {
    fillSubjects();
    freshness_->setToday(contents.today);
}

void NoteForm::load(const ShelfRecord& record) {
    const auto& note = std::get<core::ShelfNote>(record);
    choose(*kind_, note.subject);
    fillSubjects();
    subject_->setChosen(note.subjectId.isNull() ? std::nullopt : std::optional(note.subjectId));
    text_->setText(note.text);
    source_->setText(toText(note.source));
    freshness_->setFreshness(note.freshness);
}

ShelfRecord NoteForm::typed(const ShelfRecord& loaded) const {
    auto note = std::get<core::ShelfNote>(loaded);
    note.subject = chosen<core::ShelfSubject>(*kind_);
    note.subjectId = subject_->chosen().value_or(core::Uuid{});
    note.text = text_->text();
    keepText(note.source, source_);
    note.freshness = freshness_->freshness();
    return note;
}

core::Findings NoteForm::unreadable() const {
    if (freshness_->hasValidText())
        return {};
    return {unreadableText("freshness", tr("This is not a date."))};
}

QWidget* NoteForm::firstField() const {
    return text_;
}

} // namespace milehold::ui
