// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/widgets/engine_tile.h"

#include "ui/theme/paint.h"
#include "ui/theme/theme.h"

#include <QKeyEvent>

namespace milehold::ui {

namespace {

QString wordOf(const PhaserState& state) {
    switch (state.work) {
    case PhaserWork::Replaced:
        return EngineTile::tr("Replaced");
    case PhaserWork::Reused:
        return EngineTile::tr("Reused");
    case PhaserWork::Untouched:
        break;
    }
    return {};
}

} // namespace

void paintNoise(QPainter& painter, const QRectF& rect, const QColor& colour, double width) {
    const paint::Scope scope(painter);
    painter.setPen(QPen(colour, width, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
    painter.setBrush(Qt::NoBrush);
    QPolygonF wave;
    constexpr int kPeaks = 6;
    for (int i = 0; i <= kPeaks; ++i) {
        const double y = i == 0 || i == kPeaks ? rect.center().y() : i % 2 == 1 ? rect.top() : rect.bottom();
        wave << QPointF(rect.left() + rect.width() * i / kPeaks, y);
    }
    painter.drawPolyline(wave);
}

EngineTile::EngineTile(EnginePlan* plan) : QAbstractButton(plan), plan_(plan) {
    setCheckable(true);
    setAttribute(Qt::WA_Hover);
    setCursor(Qt::PointingHandCursor);
    setFocusPolicy(Qt::ClickFocus);
}

void EngineTile::setPlace(core::Position position, int number, int banks) {
    position_ = position;
    number_ = number;
    banks_ = banks;
    setText(positionName(position, banks));
    describe();
}

void EngineTile::setState(const PhaserState& state) {
    state_ = state;
    describe();
    update();
}

void EngineTile::setReadOnly(bool readOnly) {
    readOnly_ = readOnly;
    setAttribute(Qt::WA_TransparentForMouseEvents, readOnly);
    setCursor(readOnly ? Qt::ArrowCursor : Qt::PointingHandCursor);
    update();
}

void EngineTile::describe() {
    QStringList words;
    if (const QString word = wordOf(state_); !word.isEmpty())
        words << word;
    if (state_.noisy)
        words << tr("noisy");
    if (!state_.caption.isEmpty())
        words << state_.caption;
    setAccessibleName(positionName(position_, banks_));
    setAccessibleDescription(words.join(QStringLiteral(", ")));
    setToolTip(
        words.isEmpty()
            ? tr("%1 (key %2)").arg(accessibleName(), QString::number(number_))
            : tr("%1: %2 (key %3)").arg(accessibleName(), accessibleDescription(), QString::number(number_)));
}

void EngineTile::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    const paint::Scope scope(painter);
    const Tokens& t = theme::tokensOf(this);
    const QRectF r = QRectF(rect()).adjusted(3, 3, -3, -3);
    const bool on = isChecked();
    const bool replaced = state_.work == PhaserWork::Replaced;
    const bool enabled = isEnabled();
    QColor ground = t.surface;
    if (on) {
        ground = t.accent;
    } else if (replaced) {
        ground = t.accentSoft;
    } else if (underMouse() && !readOnly_ && enabled) {
        ground = mixed(t.surface, t.ink, 0.05);
    }
    const QColor ink = !enabled ? t.inkFaint : on ? t.onAccent : t.ink;
    const QColor soft = !enabled ? t.inkFaint : on ? t.onAccent : t.inkSoft;
    const QColor line = !enabled ? t.hairline : on ? t.accent : replaced ? t.accentText : t.outline;
    paint::box(painter, r, ground, line, kRadius, replaced || on ? 1.5 : 1);

    if (state_.work == PhaserWork::Reused && !on) {
        // Hatched: it stayed in.
        painter.save();
        painter.setClipRect(r.adjusted(2, 2, -2, -2));
        painter.setPen(QPen(mixed(ground, t.ink, 0.14), 1));
        for (double x = r.left() - r.height(); x < r.right(); x += 8) {
            painter.drawLine(QPointF(x, r.bottom()), QPointF(x + r.height(), r.top()));
        }
        painter.restore();
    }

    // The phaser itself: a wheel with its hub, ticked when chosen.
    const double side = std::min(20.0, r.height() * 0.36);
    const QRectF wheel(r.left() + 9, r.top() + 7, side, side);
    painter.setBrush(on ? QBrush(t.onAccent) : QBrush(Qt::NoBrush));
    painter.setPen(QPen(on ? t.onAccent : line, 1.6));
    painter.drawEllipse(wheel);
    if (on) {
        paint::tick(painter, wheel, t.accent, 2.2);
    } else {
        painter.drawEllipse(wheel.center(), side * 0.17, side * 0.17);
        painter.setBrush(Qt::NoBrush);
    }
    if (state_.noisy) {
        const QRectF badge(r.right() - 34, r.top() + 7, 27, 22);
        paint::box(painter, badge, t.amber, QColor(), 4);
        paintNoise(painter, badge.adjusted(5, 6, -5, -6), t.onAmber, 1.6);
    }

    QFont strong = theme::font(TextRole::Strong);
    const QFontMetrics metrics(strong);
    QString name = positionName(position_, 1); // the bank is written over its cams
    const int room = static_cast<int>(r.width()) - 16;
    name = metrics.elidedText(name, Qt::ElideRight, room);
    painter.setFont(strong);
    painter.setPen(ink);
    const double nameTop = wheel.bottom() + 4;
    painter.drawText(QRectF(r.left() + 9, nameTop, room, 18), Qt::AlignLeft | Qt::AlignVCenter, name);
    QStringList words;
    if (const QString word = wordOf(state_); !word.isEmpty())
        words << word;
    if (state_.noisy)
        words << tr("noisy");
    if (words.isEmpty())
        words << (on ? tr("chosen") : tr("not touched"));
    const QFont small = theme::font(TextRole::Small);
    painter.setFont(small);
    painter.setPen(soft);
    QString under = words.join(QStringLiteral(", "));
    if (!on)
        under[0] = under[0].toUpper();
    const bool caption = !state_.caption.isEmpty();
    const bool twoLines = caption && r.bottom() - nameTop >= 48;
    if (caption && !twoLines)
        under = state_.caption;
    painter.drawText(QRectF(r.left() + 9, nameTop + 17, room, 16), Qt::AlignLeft | Qt::AlignVCenter,
                     QFontMetrics(small).elidedText(under, Qt::ElideRight, room));
    if (twoLines) {
        painter.drawText(QRectF(r.left() + 9, nameTop + 32, room, 16), Qt::AlignLeft | Qt::AlignVCenter,
                         QFontMetrics(small).elidedText(state_.caption, Qt::ElideMiddle, room));
    }
    if (hasFocus())
        paint::focusRing(painter, QRectF(rect()), t, kRadius + 3);
}

void EngineTile::keyPressEvent(QKeyEvent* event) {
    // Arrows would move along Qt's own order of buttons; the plan knows the engine's.
    plan_->keyPressEvent(event);
}

void EngineTile::focusInEvent(QFocusEvent* event) {
    for (EngineTile* other : plan_->tiles_)
        other->setFocusPolicy(other == this ? Qt::StrongFocus : Qt::ClickFocus);
    QAbstractButton::focusInEvent(event);
    update();
}

} // namespace milehold::ui
