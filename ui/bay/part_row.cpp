// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/bay/part_row.h"

#include "ui/bay/job_section.h"
#include "ui/theme/icons.h"
#include "ui/theme/theme.h"
#include "ui/widgets/decimal_field.h"
#include "ui/widgets/engine_plan.h"
#include "ui/widgets/findings.h"
#include "ui/widgets/text.h"
#include "ui/words/labels.h"

#include <QCompleter>
#include <QHBoxLayout>
#include <QLineEdit>
#include <QToolButton>
#include <QVBoxLayout>

#include <algorithm>

namespace milehold::ui {
namespace {
constexpr int kMostPieces = 100'000;
}

PartRow::PartRow(const BayContext& context, const core::EngineFamily* family, QWidget* parent)
    : QWidget(parent), shelf_(context.shelf), place_(new QComboBox(this)), number_(new QComboBox(this)),
      lot_(new QLineEdit(this)), quantity_(new DecimalField(0, this)), cost_(new MoneyField(this)),
      remove_(new QToolButton(this)), finding_(new InlineFinding(this)) {
    auto* stack = new QVBoxLayout(this);
    stack->setContentsMargins(0, 0, 0, 0);
    stack->setSpacing(0);
    auto* row = new QHBoxLayout;
    row->setSpacing(kHalf);
    row->addWidget(place_);
    row->addWidget(number_, 1);
    row->addWidget(lot_);
    row->addWidget(quantity_);
    row->addWidget(cost_);
    row->addWidget(remove_);
    stack->addLayout(row);
    stack->addWidget(finding_);

    place_->setFixedWidth(112);
    place_->addItem(tr("No position"));
    if (family) {
        for (const auto position : family->positions) {
            place_->addItem(positionShortName(position, family->banks));
            places_.push_back(position);
        }
    }
    number_->setEditable(true);
    number_->setInsertPolicy(QComboBox::NoInsert);
    number_->setMinimumContentsLength(8);
    number_->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
    fillParts(context);
    number_->completer()->setFilterMode(Qt::MatchContains);
    number_->completer()->setCompletionMode(QCompleter::PopupCompletion);
    lot_->setFixedWidth(80);
    lot_->setPlaceholderText(tr("Lot"));
    quantity_->setFixedWidth(40);
    quantity_->setRange(0, kMostPieces);
    cost_->setFixedWidth(80);
    cost_->setCurrency(toText(context.settings.currency));
    cost_->setPlaceholderText(tr("Cost"));
    remove_->setIcon(icon(QStringLiteral("close")));
    remove_->setToolTip(tr("Take this part off the job"));
    remove_->setAccessibleName(tr("Take this part off the job"));
    for (auto* box : {place_, number_})
        ignoreWheel(box);

    connect(place_, &QComboBox::activated, this, [this](int chosen) {
        part_.position =
            chosen > 0 ? std::optional(places_[static_cast<std::size_t>(chosen - 1)]) : std::nullopt;
        emit edited();
    });
    connect(number_, &QComboBox::activated, this, &PartRow::choosePart);
    connect(number_->lineEdit(), &QLineEdit::editingFinished, this, &PartRow::choosePart);
    connect(lot_, &QLineEdit::textEdited, this, [this] {
        part_.lot = toUtf8(lot_->text().trimmed());
        emit edited();
    });
    connect(quantity_, &DecimalField::edited, this, [this] {
        if (const auto count = quantity_->scaled())
            part_.quantity = static_cast<int>(*count);
        emit edited();
    });
    connect(cost_, &DecimalField::edited, this, [this] {
        part_.cost = cost_->money().value_or(core::Money{});
        emit edited();
    });
    connect(remove_, &QToolButton::clicked, this, &PartRow::removed);
}

void PartRow::fillParts(const BayContext& context) {
    for (const bool current : {true, false}) {
        for (const auto& part : context.shelf->parts) {
            if (part.supersededBy.has_value() == current)
                continue;
            number_->addItem(current ? partName(part) : tr("%1 (superseded)").arg(partName(part)));
            number_->setItemData(number_->count() - 1, word(part.component), Qt::ToolTipRole);
            offered_.push_back(part.id);
        }
    }
}

void PartRow::setPart(const core::JobPart& part, int index) {
    part_ = part;
    const auto named = [index](const char* member) {
        return QStringLiteral("parts[%1].%2").arg(index).arg(QLatin1String(member));
    };
    place_->setObjectName(named("position"));
    number_->setObjectName(named("part"));
    lot_->setObjectName(named("lot"));
    quantity_->setObjectName(named("quantity"));
    cost_->setObjectName(named("cost"));
    const int shownIndex = index + 1;
    place_->setAccessibleName(tr("Part %1: position").arg(shownIndex));
    number_->setAccessibleName(tr("Part %1: number").arg(shownIndex));
    number_->lineEdit()->setAccessibleName(tr("Part %1: number").arg(shownIndex));
    lot_->setAccessibleName(tr("Part %1: lot").arg(shownIndex));
    quantity_->setAccessibleName(tr("Part %1: how many").arg(shownIndex));
    cost_->setAccessibleName(tr("Part %1: cost").arg(shownIndex));

    if (part.position) {
        auto at = std::find(places_.begin(), places_.end(), *part.position);
        if (at == places_.end()) {
            // A position that this engine does not have is shown all the same; a finding says so.
            place_->addItem(toText(core::toCode(*part.position)));
            places_.push_back(*part.position);
            at = places_.end() - 1;
        }
        place_->setCurrentIndex(static_cast<int>(at - places_.begin()) + 1);
    } else {
        place_->setCurrentIndex(0);
    }
    showPart();
    lot_->setText(toText(part.lot));
    quantity_->setScaled(part.quantity);
    cost_->setMoney(part.cost == core::Money{} ? std::nullopt : std::optional(part.cost));
}

void PartRow::showPart() {
    const auto at = std::find(offered_.begin(), offered_.end(), part_.part);
    const QSignalBlocker blocked(number_);
    number_->setCurrentIndex(at == offered_.end() ? -1 : static_cast<int>(at - offered_.begin()));
    number_->lineEdit()->setCursorPosition(0);
    if (at == offered_.end())
        number_->setEditText(part_.part.isNull() ? QString() : tr("(not on the shelf)"));
}

void PartRow::choosePart() {
    const QString typed = number_->currentText().trimmed();
    int found = number_->findText(typed, Qt::MatchFixedString);
    if (found < 0 && !typed.isEmpty())
        found = number_->findText(typed, Qt::MatchStartsWith);
    if (found >= 0 && offered_[static_cast<std::size_t>(found)] != part_.part) {
        part_.part = offered_[static_cast<std::size_t>(found)];
        showPart();
        emit edited();
        return;
    }
    showPart();
}

void PartRow::setFindings(const core::Findings& findings) {
    finding_->setFindings(findings);
    FieldState state = FieldState::Plain;
    for (const auto& finding : findings)
        if (finding.severity == core::Severity::Error)
            state = FieldState::Error;
        else if (finding.severity == core::Severity::Warning && state == FieldState::Plain)
            state = FieldState::Warning;
    theme::setFieldState(number_, state);
    number_->setAccessibleDescription(findings.empty() ? QString() : finding_->text());
}

bool PartRow::focusField(const QString& member) {
    QWidget* field = member == QLatin1String("lot")        ? static_cast<QWidget*>(lot_)
                     : member == QLatin1String("quantity") ? quantity_
                     : member == QLatin1String("cost")     ? cost_
                     : member == QLatin1String("position") ? place_
                                                           : static_cast<QWidget*>(number_);
    field->setFocus(Qt::ShortcutFocusReason);
    return true;
}

} // namespace milehold::ui
