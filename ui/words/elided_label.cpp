// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/words/elided_label.h"

#include <QPainter>

namespace milehold::ui {

ElidedLabel::ElidedLabel(QWidget* parent) : QWidget(parent) {
    setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
}

void ElidedLabel::setText(const QString& text) {
    text_ = text;
    setAccessibleName(text);
    showTip();
    updateGeometry();
    update();
}

QSize ElidedLabel::sizeHint() const {
    return {fontMetrics().horizontalAdvance(text_) + 1, fontMetrics().lineSpacing() + 2};
}

QSize ElidedLabel::minimumSizeHint() const {
    return {24, sizeHint().height()};
}

void ElidedLabel::resizeEvent(QResizeEvent* event) {
    QWidget::resizeEvent(event);
    showTip();
}

void ElidedLabel::showTip() {
    setToolTip(fontMetrics().horizontalAdvance(text_) > width() ? text_ : QString());
}

void ElidedLabel::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    painter.setPen(palette().color(foregroundRole()));
    painter.drawText(rect(), Qt::AlignLeft | Qt::AlignVCenter | Qt::TextSingleLine,
                     fontMetrics().elidedText(text_, Qt::ElideRight, width()));
}

} // namespace milehold::ui
