// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/widgets/section_title.h"

#include "ui/theme/paint.h"
#include "ui/theme/theme.h"

#include <QHBoxLayout>
#include <QLabel>

namespace milehold::ui {

SectionTitle::SectionTitle(const QString& title, QWidget* parent)
    : QWidget(parent), label_(new QLabel(title, this)), row_(new QHBoxLayout(this)) {
    theme::setText(label_, TextRole::Strong);
    row_->setContentsMargins(0, 0, 0, 0);
    row_->setSpacing(kGrid);
    row_->addWidget(label_);
    row_->addStretch(1);
    setMinimumHeight(24);
}

void SectionTitle::setTitle(const QString& title) {
    label_->setText(title);
}

void SectionTitle::addControl(QWidget* control) {
    row_->addWidget(control);
}

void SectionTitle::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    const int from = label_->geometry().right() + 12;
    int to = width();
    for (int i = 2; i < row_->count(); ++i) {
        if (const QWidget* control = row_->itemAt(i)->widget(); control && control->isVisible()) {
            to = std::min(to, control->x() - 12);
        }
    }
    const int y = label_->geometry().center().y() + 1;
    if (to > from)
        paint::hairline(painter, QPointF(from, y), QPointF(to - 1, y), theme::tokensOf(this).hairline);
}

} // namespace milehold::ui
