// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/widgets/reason_row.h"

#include "ui/theme/theme.h"

#include <QHBoxLayout>
#include <QKeyEvent>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>

namespace milehold::ui {

namespace {
constexpr int kLongest = 200;
}

ReasonRow::ReasonRow(QWidget* parent)
    : QWidget(parent), question_(new QLabel(this)), reason_(new QLineEdit(this)), act_(new QPushButton(this)),
      keep_(new QPushButton(this)) {
    reason_->setObjectName(QStringLiteral("voidReason"));
    reason_->setMaxLength(kLongest);
    question_->setBuddy(reason_);
    act_->setObjectName(QStringLiteral("voidConfirm"));
    theme::setRole(act_, ButtonRole::Primary);
    theme::setRole(keep_, ButtonRole::Quiet);
    for (QPushButton* button : {act_, keep_})
        button->setAutoDefault(false); // Enter in the field gives the reason
    auto* row = new QHBoxLayout(this);
    row->setContentsMargins(0, 0, 0, 0);
    row->setSpacing(kGrid);
    row->addWidget(question_);
    row->addWidget(reason_, 1);
    row->addWidget(act_);
    row->addWidget(keep_);
    connect(act_, &QPushButton::clicked, this, &ReasonRow::give);
    connect(keep_, &QPushButton::clicked, this, [this] {
        leave();
        emit left();
    });
    connect(reason_, &QLineEdit::textChanged, this,
            [this](const QString& text) { act_->setEnabled(!text.trimmed().isEmpty()); });
    hide();
}

void ReasonRow::ask(const QString& question, const QString& act, const QString& keep) {
    question_->setText(question);
    act_->setText(act);
    keep_->setText(keep);
    reason_->clear();
    act_->setEnabled(false);
    show();
    reason_->setFocus(Qt::OtherFocusReason);
}

void ReasonRow::leave() {
    hide();
    reason_->clear();
}

void ReasonRow::give() {
    const QString reason = reason_->text().trimmed();
    if (!reason.isEmpty())
        emit given(reason);
}

void ReasonRow::keyPressEvent(QKeyEvent* event) {
    const bool isEnter = event->key() == Qt::Key_Return || event->key() == Qt::Key_Enter;
    if (isEnter && reason_->hasFocus())
        return give();
    if (event->key() != Qt::Key_Escape)
        return QWidget::keyPressEvent(event);
    leave();
    emit left();
}

} // namespace milehold::ui
