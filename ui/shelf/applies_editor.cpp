// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/shelf/applies_editor.h"

#include "ui/shelf/choices.h"
#include "ui/shelf/plain_fields.h"
#include "ui/theme/icons.h"
#include "ui/theme/theme.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QToolButton>
#include <QVBoxLayout>

#include <algorithm>

namespace milehold::ui {
namespace {

constexpr int kYearWidth = 72;
constexpr int kButtonWidth = 32;

QHBoxLayout* rowLayout(QWidget* widget) {
    auto* layout = widget != nullptr ? new QHBoxLayout(widget) : new QHBoxLayout;
    layout->setContentsMargins(0, 0, 0, 0);
    layout->setSpacing(kGrid);
    return layout;
}

} // namespace

AppliesEditor::AppliesEditor(QWidget* parent)
    : QWidget(parent), list_(new QVBoxLayout), head_(new QWidget(this)),
      add_(new QPushButton(icon(QStringLiteral("add")), tr("Add an en&gine"), this)) {
    auto* stack = new QVBoxLayout(this);
    stack->setContentsMargins(0, 0, 0, 0);
    stack->setSpacing(kHalf);
    auto* head = rowLayout(head_);
    const auto title = [&](const QString& text, int stretch, int width) {
        auto* label = new QLabel(text, head_);
        theme::setText(label, TextRole::Small, true);
        if (width > 0)
            label->setFixedWidth(width);
        head->addWidget(label, stretch);
    };
    title(tr("Engine family"), 5, 0);
    title(tr("From year"), 0, kYearWidth);
    title(tr("To year"), 0, kYearWidth);
    head->addSpacing(2 * kButtonWidth + kGrid);
    stack->addWidget(head_);
    list_->setSpacing(kHalf);
    stack->addLayout(list_);
    theme::setRole(add_, ButtonRole::Quiet);
    stack->addWidget(add_, 0, Qt::AlignLeft);
    setFocusProxy(add_);
    connect(add_, &QPushButton::clicked, this, [this] {
        addRow({});
        rows_.back().family->setFocus(Qt::ShortcutFocusReason);
        emit edited();
    });
    head_->hide();
}

void AppliesEditor::setShelf(const core::Shelf& shelf) {
    shelf_ = shelf;
    for (Row& row : rows_)
        fill(row);
}

void AppliesEditor::fill(Row& row) const {
    row.family->setItems(familyChoices(shelf_));
    row.needs->setItems(calibrationChoices(shelf_));
    row.excludes->setItems(calibrationChoices(shelf_));
}

void AppliesEditor::addRow(const core::PathApplies& applies) {
    Row row;
    row.loaded = applies;
    row.widget = new QWidget(this);
    auto* lines = new QVBoxLayout(row.widget);
    lines->setContentsMargins(0, 0, 0, 0);
    lines->setSpacing(kHalf);
    auto* layout = rowLayout(nullptr);
    lines->addLayout(layout);
    row.limits = new QWidget(row.widget);
    auto* second = rowLayout(row.limits);
    lines->addWidget(row.limits);
    row.family = new IdCombo(tr("Choose an engine"), row.widget);
    row.from = new WholeField(row.widget);
    row.to = new WholeField(row.widget);
    row.needs = new IdCombo(tr("any calibration"), row.widget);
    row.excludes = new IdCombo(tr("none left out"), row.widget);
    row.family->setAccessibleName(tr("Engine family"));
    row.from->setAccessibleName(tr("From model year"));
    row.to->setAccessibleName(tr("To model year"));
    row.needs->setAccessibleName(tr("Only with this calibration or a later one"));
    row.excludes->setAccessibleName(tr("Not with this calibration or a later one"));
    for (WholeField* field : {row.from, row.to}) {
        field->setFixedWidth(kYearWidth);
        field->setPlaceholderText(tr("any"));
        connect(field, &WholeField::edited, this, &AppliesEditor::edited);
    }
    fill(row);
    row.family->setChosen(applies.family.isNull() ? std::nullopt : std::optional(applies.family.uuid));
    row.from->setValue(applies.fromYear);
    row.to->setValue(applies.toYear);
    row.needs->setId(applies.needsCalibration);
    row.excludes->setId(applies.excludesCalibration);
    for (IdCombo* combo : {row.family, row.needs, row.excludes})
        connect(combo, &IdCombo::edited, this, &AppliesEditor::edited);
    auto* remove = new QToolButton(row.widget);
    remove->setIcon(icon(QStringLiteral("close")));
    remove->setFixedWidth(kButtonWidth);
    remove->setAutoRaise(true);
    remove->setToolTip(tr("Take this engine off the list"));
    remove->setAccessibleName(remove->toolTip());
    connect(remove, &QToolButton::clicked, this, [this, widget = row.widget] { removeRow(widget); });
    auto* limit = new QToolButton(row.widget);
    limit->setIcon(icon(QStringLiteral("chip")));
    limit->setFixedWidth(kButtonWidth);
    limit->setAutoRaise(true);
    limit->setCheckable(true);
    limit->setToolTip(tr("Only with some calibrations"));
    limit->setAccessibleName(limit->toolTip());
    const bool limited = applies.needsCalibration || applies.excludesCalibration;
    limit->setChecked(limited);
    row.limits->setVisible(limited);
    connect(limit, &QToolButton::toggled, row.limits, &QWidget::setVisible);
    layout->addWidget(row.family, 1);
    layout->addWidget(row.from);
    layout->addWidget(row.to);
    layout->addWidget(limit);
    layout->addWidget(remove);
    second->addSpacing(kGap);
    const auto named = [&](const QString& words, IdCombo* combo) {
        auto* label = new QLabel(words, row.limits);
        theme::setText(label, TextRole::Small, true);
        label->setBuddy(combo);
        second->addWidget(label);
        second->addWidget(combo, 1);
    };
    named(tr("only with"), row.needs);
    named(tr("not with"), row.excludes);
    second->addSpacing(2 * kButtonWidth + kGrid);
    list_->addWidget(row.widget);
    rows_.push_back(row);
    nameFields();
    head_->show();
}

void AppliesEditor::nameFields() {
    for (std::size_t i = 0; i < rows_.size(); ++i) {
        rows_[i].from->setObjectName(QStringLiteral("applies%1.from").arg(i));
        rows_[i].to->setObjectName(QStringLiteral("applies%1.to").arg(i));
    }
}

void AppliesEditor::removeRow(QWidget* widget) {
    const auto row =
        std::find_if(rows_.begin(), rows_.end(), [&](const Row& r) { return r.widget == widget; });
    if (row == rows_.end())
        return;
    for (WholeField* gone : {row->from, row->to})
        gone->setObjectName({});
    rows_.erase(row);
    nameFields();
    widget->hide(); // its own button is on the way out of a click
    widget->deleteLater();
    head_->setVisible(!rows_.empty());
    (rows_.empty() ? static_cast<QWidget*>(add_) : rows_.back().family)->setFocus(Qt::ShortcutFocusReason);
    emit edited();
}

void AppliesEditor::setApplies(const std::vector<core::PathApplies>& applies) {
    for (const Row& row : rows_) {
        row.from->setObjectName({});
        row.to->setObjectName({});
        row.widget->hide();
        row.widget->deleteLater();
    }
    rows_.clear();
    head_->hide();
    for (const core::PathApplies& entry : applies)
        addRow(entry);
}

std::vector<core::PathApplies> AppliesEditor::applies() const {
    std::vector<core::PathApplies> result;
    for (const Row& row : rows_) {
        core::PathApplies entry = row.loaded;
        entry.family.uuid = row.family->chosen().value_or(core::Uuid{});
        entry.fromYear = row.from->value();
        entry.toYear = row.to->value();
        entry.needsCalibration = row.needs->id<core::CalibrationId>();
        entry.excludesCalibration = row.excludes->id<core::CalibrationId>();
        result.push_back(entry);
    }
    return result;
}

bool AppliesEditor::hasValidText() const {
    return std::all_of(rows_.begin(), rows_.end(),
                       [](const Row& row) { return row.from->hasValidText() && row.to->hasValidText(); });
}

} // namespace milehold::ui
