// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/shelf/chain_view.h"

#include "ui/theme/paint.h"
#include "ui/theme/theme.h"

#include <QHelpEvent>
#include <QKeyEvent>
#include <QPainterPath>
#include <QToolTip>

#include <algorithm>
#include <cstdlib>

namespace milehold::ui {
namespace {

constexpr int kCardHeight = 48;
constexpr int kWidest = 148;
constexpr int kNarrowest = 92;
constexpr int kArrow = 28;
constexpr int kBetweenRows = 12;

} // namespace

ChainView::ChainView(QWidget* parent) : QWidget(parent) {
    setFocusPolicy(Qt::StrongFocus);
    setMouseTracking(true);
    setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
}

void ChainView::setChain(const Chain& chain) {
    chain_ = chain;
    hovered_ = -1;
    focused_ = -1;
    QStringList words;
    for (std::size_t i = 0; i < chain_.links.size(); ++i) {
        if (chain_.links[i].here)
            focused_ = static_cast<int>(i);
        words << spoken(chain_.links[i]);
    }
    setAccessibleDescription(words.join(QStringLiteral("; ")));
    updateGeometry();
    update();
}

QString ChainView::spoken(const ChainLink& link) const {
    const QString name = link.note.isEmpty() ? link.name : tr("%1, since %2").arg(link.name, link.note);
    return link.current ? tr("%1, current").arg(name) : tr("%1, superseded").arg(name);
}

QSize ChainView::sizeHint() const {
    const int rows = std::max(1, chain_.rows);
    return {std::max(1, chain_.columns) * (kWidest + kArrow) - kArrow + 4,
            rows * (kCardHeight + kBetweenRows) - kBetweenRows + 4};
}

QSize ChainView::minimumSizeHint() const {
    return {2 * kNarrowest + kArrow, sizeHint().height()};
}

int ChainView::firstColumn() const {
    const int fit = std::max(1, (width() - 4 + kArrow) / (kNarrowest + kArrow));
    return std::max(0, chain_.columns - fit);
}

QRectF ChainView::cardOf(const ChainLink& link) const {
    const int first = firstColumn();
    const int shown = std::max(1, chain_.columns - first);
    const double room = (width() - 4.0 - (shown - 1) * kArrow) / shown;
    const double wide = std::clamp(room, double(kNarrowest), double(kWidest));
    return {2 + (link.column - first) * (wide + kArrow), 2.0 + link.row * (kCardHeight + kBetweenRows), wide,
            double(kCardHeight)};
}

int ChainView::linkAt(const QPointF& at) const {
    const int first = firstColumn();
    for (std::size_t i = 0; i < chain_.links.size(); ++i)
        if (chain_.links[i].column >= first && cardOf(chain_.links[i]).contains(at))
            return static_cast<int>(i);
    return -1;
}

void ChainView::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    const paint::Scope scope(painter);
    const Tokens& t = theme::tokensOf(this);
    const int first = firstColumn();

    painter.setBrush(Qt::NoBrush);
    for (const auto& [from, to] : chain_.arrows) {
        const ChainLink& older = chain_.links[from];
        const ChainLink& newer = chain_.links[to];
        if (newer.column < first)
            continue;
        const QRectF target = cardOf(newer);
        const QPointF tip(target.left() - 3, target.center().y());
        const QRectF source = cardOf(older);
        const QPointF begin(older.column < first ? tip.x() - kArrow + 8 : source.right() + 3,
                            source.center().y());
        painter.setPen(QPen(t.inkSoft, 1.5, older.column < first ? Qt::DotLine : Qt::SolidLine, Qt::FlatCap));
        QPainterPath way(begin);
        const double middle = tip.x() - kArrow / 2.0;
        way.lineTo(middle, begin.y());
        way.lineTo(middle, tip.y());
        way.lineTo(tip - QPointF(3, 0));
        painter.drawPath(way);
        painter.setPen(Qt::NoPen);
        painter.setBrush(t.inkSoft);
        const QPointF head[] = {tip, tip + QPointF(-7, -4.5), tip + QPointF(-7, 4.5)};
        painter.drawPolygon(head, 3);
        painter.setBrush(Qt::NoBrush);
    }

    for (std::size_t i = 0; i < chain_.links.size(); ++i) {
        const ChainLink& link = chain_.links[i];
        if (link.column < first)
            continue;
        const QRectF card = cardOf(link).adjusted(0.5, 0.5, -0.5, -0.5);
        const bool hover = static_cast<int>(i) == hovered_ && !link.here;
        painter.setPen(QPen(link.current ? t.accentText : t.outline, link.current ? 1.5 : 1.0));
        painter.setBrush(link.here ? t.accentSoft : hover ? t.raised : t.surface);
        painter.drawRoundedRect(card, kRadius, kRadius);
        const QRectF text = card.adjusted(10, 5, -10, -5);
        painter.setFont(theme::font(link.here ? TextRole::Strong : TextRole::Body));
        painter.setPen(link.current || link.here ? t.ink : t.inkSoft);
        const QFontMetricsF big(painter.font());
        painter.drawText(text, Qt::AlignLeft | Qt::AlignTop,
                         big.elidedText(link.name, Qt::ElideMiddle, text.width()));
        painter.setFont(theme::font(TextRole::Small));
        const QFontMetricsF small(painter.font());
        QString note = link.note;
        if (link.current)
            note = note.isEmpty() ? tr("current") : tr("current · %1").arg(note);
        painter.setPen(link.current ? t.accentText : t.inkSoft);
        painter.drawText(text, Qt::AlignLeft | Qt::AlignBottom,
                         small.elidedText(note, Qt::ElideRight, text.width()));
        if (hasFocus() && static_cast<int>(i) == focused_)
            paint::focusRing(painter, cardOf(link), t);
    }
}

void ChainView::moveTo(int columns, int rows) {
    if (focused_ < 0 || chain_.links.empty())
        return;
    const ChainLink& from = chain_.links[static_cast<std::size_t>(focused_)];
    int best = -1;
    int bestScore = 1 << 20;
    for (std::size_t i = 0; i < chain_.links.size(); ++i) {
        const int dx = chain_.links[i].column - from.column;
        const int dy = chain_.links[i].row - from.row;
        const bool ahead = columns != 0 ? dx * columns > 0 : dx == 0 && dy * rows > 0;
        const int score = std::abs(dx) * 10 + std::abs(dy);
        if (ahead && score < bestScore && chain_.links[i].column >= firstColumn()) {
            best = static_cast<int>(i);
            bestScore = score;
        }
    }
    if (best < 0)
        return;
    focused_ = best;
    setAccessibleName(spoken(chain_.links[static_cast<std::size_t>(best)]));
    update();
}

void ChainView::keyPressEvent(QKeyEvent* event) {
    switch (event->key()) {
    case Qt::Key_Left:
        return moveTo(-1, 0);
    case Qt::Key_Right:
        return moveTo(1, 0);
    case Qt::Key_Up:
        return moveTo(0, -1);
    case Qt::Key_Down:
        return moveTo(0, 1);
    case Qt::Key_Return:
    case Qt::Key_Enter:
    case Qt::Key_Space:
        if (focused_ >= 0 && !chain_.links[static_cast<std::size_t>(focused_)].here)
            emit linkWanted(chain_.links[static_cast<std::size_t>(focused_)].id);
        return;
    default:
        QWidget::keyPressEvent(event);
    }
}

void ChainView::mousePressEvent(QMouseEvent* event) {
    const int link = linkAt(event->position());
    if (link < 0)
        return;
    focused_ = link;
    update();
    if (!chain_.links[static_cast<std::size_t>(link)].here)
        emit linkWanted(chain_.links[static_cast<std::size_t>(link)].id);
}

void ChainView::mouseMoveEvent(QMouseEvent* event) {
    const int link = linkAt(event->position());
    if (link == hovered_)
        return;
    hovered_ = link;
    const bool opens = link >= 0 && !chain_.links[static_cast<std::size_t>(link)].here;
    setCursor(opens ? Qt::PointingHandCursor : Qt::ArrowCursor);
    update();
}

void ChainView::leaveEvent(QEvent*) {
    hovered_ = -1;
    update();
}

bool ChainView::event(QEvent* event) {
    if (event->type() == QEvent::ToolTip) {
        const auto* help = static_cast<QHelpEvent*>(event);
        const int link = linkAt(help->pos());
        if (link >= 0)
            QToolTip::showText(help->globalPos(), spoken(chain_.links[static_cast<std::size_t>(link)]), this);
        return true;
    }
    return QWidget::event(event);
}

} // namespace milehold::ui
