// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/widgets/pills.h"

#include "ui/theme/paint.h"
#include "ui/theme/theme.h"

#include <QKeyEvent>
#include <QMouseEvent>

namespace milehold::ui {

namespace {

QColor groundOf(Tone tone, const Tokens& t) {
    switch (tone) {
    case Tone::Accent:
        return t.accentSoft;
    case Tone::Amber:
        return t.amberSoft;
    case Tone::Danger:
        return t.dangerSoft;
    case Tone::Neutral:
        break;
    }
    return mixed(t.surface, t.ink, 0.08);
}

QColor inkOf(Tone tone, const Tokens& t) {
    switch (tone) {
    case Tone::Accent:
        return t.accentText;
    case Tone::Amber:
        return t.amberText;
    case Tone::Danger:
        return t.dangerText;
    case Tone::Neutral:
        break;
    }
    return t.ink;
}

constexpr int kPillHeight = 22;
constexpr int kChipHeight = 30;

} // namespace

void paintPill(QPainter& painter, const QRectF& rect, const QString& text, Tone tone, const Tokens& tokens) {
    const paint::Scope scope(painter);
    paint::box(painter, rect, groundOf(tone, tokens), QColor(), rect.height() / 2);
    QFont font = theme::font(TextRole::Small);
    font.setWeight(QFont::Medium);
    painter.setFont(font);
    painter.setPen(inkOf(tone, tokens));
    const QString shown = QFontMetricsF(font).elidedText(text, Qt::ElideRight, rect.width() - 2 * kGrid);
    painter.drawText(rect, Qt::AlignCenter | Qt::TextSingleLine, shown);
}

Pill::Pill(const QString& text, Tone tone, QWidget* parent) : QWidget(parent), tone_(tone) {
    setSizePolicy(QSizePolicy::Fixed, QSizePolicy::Fixed);
    setText(text);
}

void Pill::setText(const QString& text) {
    text_ = text;
    setAccessibleName(text);
    updateGeometry();
    update();
}

void Pill::setTone(Tone tone) {
    tone_ = tone;
    update();
}

QSize Pill::sizeHint() const {
    QFont font = theme::font(TextRole::Small);
    font.setWeight(QFont::Medium);
    return {QFontMetrics(font).horizontalAdvance(text_) + 2 * kGrid + 4, kPillHeight};
}

void Pill::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    paintPill(painter, QRectF(rect()), text_, tone_, theme::tokensOf(this));
}

Chip::Chip(const QString& text, QWidget* parent) : QAbstractButton(parent) {
    setText(text);
    setCheckable(true);
    setFocusPolicy(Qt::StrongFocus);
    setSizePolicy(QSizePolicy::Fixed, QSizePolicy::Fixed);
    setAttribute(Qt::WA_Hover);
}

void Chip::setRemovable(bool removable) {
    removable_ = removable;
    updateGeometry();
    update();
}

QSize Chip::sizeHint() const {
    const int mark = isCheckable() ? 20 : 0;
    const int cross = removable_ ? 20 : 0;
    return {fontMetrics().size(Qt::TextShowMnemonic, text()).width() + 24 + mark + cross, kChipHeight};
}

QRect Chip::crossRect() const {
    return {width() - 28, (height() - 20) / 2, 20, 20};
}

void Chip::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    const paint::Scope scope(painter);
    const Tokens& t = theme::tokensOf(this);
    const bool on = isChecked();
    const QColor fill = on                            ? t.accentSoft
                        : underMouse() && isEnabled() ? mixed(t.surface, t.ink, 0.05)
                                                      : t.surface;
    const QColor line = !isEnabled() ? t.hairline : on ? t.accentText : t.outline;
    const QColor ink = !isEnabled() ? t.inkFaint : on ? t.accentText : t.ink;
    paint::box(painter, QRectF(rect()), fill, line, height() / 2.0);
    int left = 12;
    if (isCheckable()) {
        const QRectF mark(10, (height() - 16) / 2.0, 16, 16);
        if (on) {
            paint::tick(painter, mark, ink, 2);
        } else {
            paint::box(painter, mark.adjusted(3, 3, -3, -3), QColor(), t.outline, 5, 1.5);
        }
        left = 30;
    }
    painter.setPen(ink);
    const QRect at(left, 0, width() - left - (removable_ ? 30 : 10), height());
    painter.drawText(at, Qt::AlignLeft | Qt::AlignVCenter | Qt::TextShowMnemonic | Qt::TextSingleLine,
                     text());
    if (removable_) {
        const QRectF c(crossRect());
        painter.setPen(QPen(ink, 1.6, Qt::SolidLine, Qt::RoundCap));
        painter.drawLine(c.center() + QPointF(-4, -4), c.center() + QPointF(4, 4));
        painter.drawLine(c.center() + QPointF(-4, 4), c.center() + QPointF(4, -4));
    }
    if (hasFocus())
        paint::focusRing(painter, QRectF(rect()), t, height() / 2.0);
}

void Chip::keyPressEvent(QKeyEvent* event) {
    if (removable_ && (event->key() == Qt::Key_Delete || event->key() == Qt::Key_Backspace)) {
        emit removed();
        return;
    }
    QAbstractButton::keyPressEvent(event);
}

void Chip::mouseReleaseEvent(QMouseEvent* event) {
    if (removable_ && crossRect().contains(event->position().toPoint())) {
        setDown(false);
        emit removed();
        return;
    }
    QAbstractButton::mouseReleaseEvent(event);
}

} // namespace milehold::ui
