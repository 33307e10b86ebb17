// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/widgets/unit_field.h"

#include "ui/theme/theme.h"

#include <QFocusEvent>
#include <QPainter>

namespace milehold::ui {

UnitField::UnitField(QWidget* parent) : QLineEdit(parent) {
    setAlignment(Qt::AlignRight | Qt::AlignVCenter);
}

void UnitField::setSuffix(const QString& suffix) {
    suffix_ = suffix;
    setMargins();
}

void UnitField::setPrefix(const QString& prefix) {
    prefix_ = prefix;
    setMargins();
}

void UnitField::setMargins() {
    const auto wide = [this](const QString& text) {
        return text.isEmpty() ? 0 : fontMetrics().horizontalAdvance(text) + kHalf + 2;
    };
    setTextMargins(wide(prefix_), 0, wide(suffix_), 0);
    updateGeometry();
    update();
}

QSize UnitField::sizeHint() const {
    const QSize base = QLineEdit::sizeHint();
    return {fontMetrics().horizontalAdvance(QStringLiteral("8,888,888")) + textMargins().left() +
                textMargins().right() + 2 * kGap,
            base.height()};
}

void UnitField::paintEvent(QPaintEvent* event) {
    QLineEdit::paintEvent(event);
    if (suffix_.isEmpty() && prefix_.isEmpty())
        return;
    QPainter painter(this);
    const Tokens& t = theme::tokensOf(this);
    painter.setPen(isEnabled() ? t.inkSoft : t.inkFaint);
    painter.drawText(rect().adjusted(0, 0, -10, 0), Qt::AlignRight | Qt::AlignVCenter, suffix_);
    painter.drawText(rect().adjusted(10, 0, 0, 0), Qt::AlignLeft | Qt::AlignVCenter, prefix_);
}

void UnitField::focusInEvent(QFocusEvent* event) {
    QLineEdit::focusInEvent(event);
    // Arriving by key selects the value, so that typing replaces it.
    if (event->reason() != Qt::MouseFocusReason)
        selectAll();
}

} // namespace milehold::ui
