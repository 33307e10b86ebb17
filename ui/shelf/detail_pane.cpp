// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/shelf/detail_pane.h"

#include "core/shop/stale_facts.h"
#include "ui/bay/tab_order.h"
#include "ui/shelf/calibration_form.h"
#include "ui/shelf/family_form.h"
#include "ui/shelf/note_form.h"
#include "ui/shelf/notes_strip.h"
#include "ui/shelf/part_form.h"
#include "ui/shelf/path_form.h"
#include "ui/shelf/settings_form.h"
#include "ui/shelf/staff_form.h"
#include "ui/theme/icons.h"
#include "ui/theme/theme.h"
#include "ui/widgets/findings.h"
#include "ui/widgets/text.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QPainter>
#include <QPushButton>
#include <QScrollArea>
#include <QScrollBar>
#include <QToolButton>
#include <QVBoxLayout>

#include <algorithm>

namespace milehold::ui {
namespace {

/// A name that is cut at its end rather than making the pane wider.
class NameLabel : public QLabel {
public:
    using QLabel::QLabel;
    QSize minimumSizeHint() const override { return {80, QLabel::minimumSizeHint().height()}; }

protected:
    void paintEvent(QPaintEvent*) override {
        QPainter painter(this);
        painter.setPen(palette().color(foregroundRole()));
        painter.drawText(rect(), Qt::AlignVCenter | Qt::AlignLeft,
                         fontMetrics().elidedText(text(), Qt::ElideRight, width()));
    }
};

QString headed(QString text) {
    if (!text.isEmpty())
        text[0] = text[0].toUpper();
    return text;
}

} // namespace

DetailPane::DetailPane(QWidget* parent)
    : QWidget(parent), page_(new QWidget(this)), empty_(new QWidget(this)), emptyTitle_(new QLabel(empty_)),
      emptyText_(new QLabel(empty_)), kind_(new QLabel(page_)), name_(new NameLabel(page_)),
      status_(new StatusLabel({}, page_)),
      checked_(new QPushButton(icon(QStringLiteral("check")), tr("Checked &today"), page_)),
      remove_(new QToolButton(page_)), trouble_(new InlineFinding(page_)), scroll_(new QScrollArea(page_)),
      stack_(nullptr), notes_(nullptr), save_(new QPushButton(tr("Save"), page_)),
      takeBack_(new QPushButton(tr("Take back changes"), page_)), state_(new QLabel(page_)) {
    auto* outer = new QVBoxLayout(this);
    outer->setContentsMargins(0, 0, 0, 0);
    outer->addWidget(page_);
    outer->addWidget(empty_);

    auto* emptyStack = new QVBoxLayout(empty_);
    emptyStack->addStretch(2);
    for (QLabel* label : {emptyTitle_, emptyText_}) {
        label->setAlignment(Qt::AlignHCenter);
        label->setWordWrap(true);
        emptyStack->addWidget(label);
    }
    emptyStack->addStretch(3);
    theme::setText(emptyTitle_, TextRole::Lead);
    theme::setText(emptyText_, TextRole::Body, true);

    auto* column = new QVBoxLayout(page_);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(kGrid);
    auto* above = new QHBoxLayout;
    theme::setText(kind_, TextRole::Small, true);
    above->addWidget(kind_, 1);
    above->addWidget(status_, 0);
    column->addLayout(above);
    auto* head = new QHBoxLayout;
    head->setSpacing(kGrid);
    theme::setText(name_, TextRole::Title);
    head->addWidget(name_, 1);
    checked_->setObjectName(QStringLiteral("checkedToday"));
    checked_->setToolTip(tr("The facts of this record were checked today (Ctrl+T)"));
    remove_->setObjectName(QStringLiteral("remove"));
    remove_->setIcon(icon(QStringLiteral("delete")));
    remove_->setAutoRaise(true);
    head->addWidget(checked_);
    head->addWidget(remove_);
    column->addLayout(head);
    column->addWidget(trouble_);

    auto* inside = new QWidget(scroll_);
    stack_ = new QVBoxLayout(inside);
    stack_->setContentsMargins(2, 2, kGap, kGrid);
    stack_->setSpacing(24);
    notes_ = new NotesStrip(inside);
    stack_->addWidget(notes_);
    stack_->addStretch(1);
    scroll_->setWidget(inside);
    scroll_->setWidgetResizable(true);
    scroll_->setFrameShape(QFrame::NoFrame);
    scroll_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    scroll_->viewport()->setAutoFillBackground(false);
    inside->setAutoFillBackground(false);
    scroll_->setFocusPolicy(Qt::NoFocus);
    column->addWidget(scroll_, 1);

    auto* foot = new QHBoxLayout;
    foot->setSpacing(kGrid);
    save_->setObjectName(QStringLiteral("save"));
    save_->setToolTip(tr("Ctrl+S"));
    theme::setRole(save_, ButtonRole::Primary);
    takeBack_->setObjectName(QStringLiteral("takeBack"));
    theme::setText(state_, TextRole::Small, true);
    foot->addWidget(save_);
    foot->addWidget(takeBack_);
    foot->addWidget(state_, 1);
    column->addLayout(foot);

    connect(save_, &QPushButton::clicked, this, &DetailPane::save);
    connect(takeBack_, &QPushButton::clicked, this, &DetailPane::takeBack);
    connect(remove_, &QToolButton::clicked, this, &DetailPane::removeWanted);
    connect(checked_, &QPushButton::clicked, this, &DetailPane::checkedTodayWanted);
    connect(notes_, &NotesStrip::addWanted, this, &DetailPane::noteWanted);
    connect(notes_, &NotesStrip::noteChosen, this,
            [this](const core::Uuid& id) { emit recordWanted(ShelfSection::Notes, id); });
    page_->hide();
}

RecordForm* DetailPane::formFor(ShelfSection section) {
    RecordForm*& form = forms_[static_cast<std::size_t>(section)];
    if (form != nullptr)
        return form;
    QWidget* inside = scroll_->widget();
    switch (section) {
    case ShelfSection::Engines:
        form = new FamilyForm(inside);
        break;
    case ShelfSection::Parts:
        form = new PartForm(inside);
        break;
    case ShelfSection::Calibrations:
        form = new CalibrationForm(inside);
        break;
    case ShelfSection::Notes:
        form = new NoteForm(inside);
        break;
    case ShelfSection::People:
        form = new StaffForm(inside);
        break;
    case ShelfSection::Shop:
        form = new SettingsForm(inside);
        break;
    case ShelfSection::Paths:
    case ShelfSection::WantsChecking:
        form = new PathForm(inside);
        break;
    }
    form->setContents(contents_);
    form->hide();
    stack_->insertWidget(0, form);
    connect(form, &RecordForm::edited, this, [this] {
        setTrouble({});
        form_->showFindings();
        showState();
        emit edited();
    });
    connect(form, &RecordForm::recordWanted, this, &DetailPane::recordWanted);
    return form;
}

void DetailPane::setContents(const ShelfContents& contents) {
    contents_ = contents;
    for (RecordForm* form : forms_)
        if (form != nullptr)
            form->setContents(contents_);
    if (form_ != nullptr) {
        showNotes();
        showState();
    }
}

void DetailPane::setRecord(const ShelfRecord& record, const ShelfDraft* draft) {
    RecordForm* form = formFor(sectionOf(record));
    const bool same = form_ == form && idOf(form->loaded()) == idOf(record);
    if (form_ != nullptr && form_ != form)
        form_->hide();
    form_ = form;
    form_->setRecord(draft != nullptr ? draft->base : record);
    if (draft != nullptr)
        form_->setTyped(draft->typed, draft->unfinished);
    form_->show();
    empty_->hide();
    page_->show();
    if (!same) {
        scroll_->verticalScrollBar()->setValue(0);
        setTrouble({});
    }
    kind_->setText(headed(kindOf(record)));
    if (revisionOf(record) != 0 || draft != nullptr)
        form_->showFindings();
    else
        form_->clearFindings();
    showNotes();
    showState();
}

void DetailPane::clear(const QString& title, const QString& text) {
    if (form_ != nullptr)
        form_->hide();
    form_ = nullptr;
    emptyTitle_->setText(title);
    emptyText_->setText(text);
    page_->hide();
    empty_->show();
}

void DetailPane::showNotes() {
    const ShelfRecord record = form_->loaded();
    const ShelfSection section = sectionOf(record);
    const bool noted = section == ShelfSection::Engines || section == ShelfSection::Paths ||
                       section == ShelfSection::Parts || section == ShelfSection::Calibrations;
    notes_->setVisible(noted && revisionOf(record) != 0);
    if (!noted)
        return;
    std::vector<core::ShelfNote> notes;
    for (const core::ShelfNote& note : contents_.shelf.notes)
        if (note.subjectId == idOf(record))
            notes.push_back(note);
    std::stable_sort(notes.begin(), notes.end(), [](const core::ShelfNote& a, const core::ShelfNote& b) {
        return a.freshness.checkedOn > b.freshness.checkedOn;
    });
    notes_->setNotes(notes, contents_.today);
}

void DetailPane::showState() {
    const ShelfRecord typed = form_->record();
    const bool isNew = revisionOf(typed) == 0 && sectionOf(typed) != ShelfSection::Shop;
    const bool dirty = form_->isEdited();
    name_->setText(titleOf(typed, contents_));
    name_->setToolTip(name_->text());
    const core::Freshness* freshness = freshnessOf(typed);
    checked_->setVisible(freshness != nullptr);
    remove_->setVisible(sectionOf(typed) != ShelfSection::Shop);
    remove_->setToolTip(isNew ? tr("Drop it") : tr("Remove the %1 from the shelf").arg(kindOf(typed)));
    remove_->setAccessibleName(remove_->toolTip());
    const bool checkFirst = checkFirst_ && freshness != nullptr && !dirty;
    theme::setRole(checked_, checkFirst ? ButtonRole::Primary : ButtonRole::Ordinary);
    theme::setRole(save_, checkFirst ? ButtonRole::Ordinary : ButtonRole::Primary);
    status_->setVisible(sectionOf(typed) != ShelfSection::Shop && !isNew);
    status_->setStatus(statusOf(typed, contents_));
    save_->setText(tr("Save the %1").arg(kindOf(typed)));
    save_->setEnabled(!busy_ && (dirty || isNew));
    takeBack_->setVisible(!isNew);
    takeBack_->setEnabled(!busy_ && dirty);
    QString state;
    if (busy_)
        state = tr("Saving …");
    else if (isNew)
        state = tr("Not on the shelf yet");
    else if (dirty)
        state = tr("Changed, not saved");
    else if (freshness != nullptr && freshness->checkedOn && freshness->checkedOn->ok())
        state = tr("Checked on %1").arg(dateText(*freshness->checkedOn));
    state_->setText(state);
}

ShelfRecord DetailPane::record() const {
    return form_->record();
}

bool DetailPane::focusNextPrevChild(bool next) {
    return focusNextStop(this, next);
}

bool DetailPane::isEdited() const {
    return form_ != nullptr && form_->isEdited();
}

void DetailPane::focusForm(const QString& field) {
    if (form_ != nullptr)
        form_->focusField(field);
}

void DetailPane::setCheckFirst(bool first) {
    checkFirst_ = first;
    if (form_ != nullptr)
        showState();
}

void DetailPane::setBusy(bool busy) {
    busy_ = busy;
    if (form_ != nullptr)
        showState();
}

void DetailPane::setTrouble(const QString& sentence) {
    core::Findings findings;
    if (!sentence.isEmpty())
        findings.push_back({{}, core::Severity::Error, toUtf8(sentence)});
    trouble_->setFindings(findings);
}

void DetailPane::markCheckedToday() {
    if (form_ == nullptr)
        return;
    ShelfRecord typed = form_->record();
    core::Freshness* freshness = freshnessOf(typed);
    if (freshness == nullptr)
        return;
    *freshness = core::checkedToday(*freshness, contents_.today);
    form_->setTyped(typed);
    form_->showFindings();
    showState();
    emit edited();
}

void DetailPane::save() {
    if (form_ == nullptr || busy_)
        return;
    const core::Findings findings = form_->showFindings();
    const auto error = std::find_if(findings.begin(), findings.end(), [](const core::Finding& finding) {
        return finding.severity == core::Severity::Error;
    });
    if (error != findings.end()) {
        setTrouble(tr("Not saved: %1").arg(toText(error->message)));
        form_->focusField(toText(error->field));
        return;
    }
    setTrouble({});
    emit saveWanted(form_->record());
}

void DetailPane::takeBack() {
    if (form_ == nullptr || busy_)
        return;
    form_->setRecord(form_->loaded());
    form_->showFindings();
    setTrouble({});
    showState();
    emit takenBack();
}

} // namespace milehold::ui
