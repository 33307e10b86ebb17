// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/charts/painted_chart.h"

#include "ui/theme/paint.h"
#include "ui/theme/theme.h"

#include <QApplication>
#include <QClipboard>
#include <QHelpEvent>
#include <QKeyEvent>
#include <QMouseEvent>
#include <QToolTip>

#include <algorithm>

namespace milehold::ui {

PaintedChart::PaintedChart(QWidget* parent) : QWidget(parent) {
    setMouseTracking(true);
    setFocusPolicy(Qt::StrongFocus);
}

void PaintedChart::paintVector(QPainter& painter, const QRectF& rect) const {
    const paint::Scope scope(painter);
    paintChart(painter, rect, tokensFor(Scheme::Print), -1);
}

void PaintedChart::setEmptyText(const QString& text) {
    emptyText_ = text;
    update();
}

void PaintedChart::dataChanged() {
    current_ = -1;
    QStringList sentences;
    for (int i = 0; i < markCount(); ++i)
        sentences << markText(i);
    setAccessibleDescription(sentences.isEmpty() ? emptyText_ : sentences.join(QStringLiteral(". ")));
    updateGeometry();
    update();
}

void PaintedChart::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    const paint::Scope scope(painter);
    Tokens t = theme::tokensOf(this);
    t.surface = palette().color(backgroundRole());
    if (markCount() == 0) {
        painter.setPen(t.inkSoft);
        painter.drawText(rect().adjusted(kGap, kGrid, -kGap, -kGrid), Qt::AlignCenter | Qt::TextWordWrap,
                         emptyText_);
    } else {
        paintChart(painter, contentRect(), t, current_);
    }
    if (hasFocus())
        paint::focusRing(painter, QRectF(rect()), t);
}

void PaintedChart::setCurrent(int mark) {
    if (mark == current_)
        return;
    current_ = mark;
    setCursor(mark >= 0 ? Qt::PointingHandCursor : Qt::ArrowCursor);
    update();
}

void PaintedChart::mouseMoveEvent(QMouseEvent* event) {
    setCurrent(markAt(event->position()));
}

void PaintedChart::mousePressEvent(QMouseEvent* event) {
    if (event->button() != Qt::LeftButton)
        return;
    setCurrent(markAt(event->position()));
    if (current_ >= 0)
        emit markClicked(markId(current_));
}

void PaintedChart::leaveEvent(QEvent*) {
    if (!hasFocus())
        setCurrent(-1);
}

void PaintedChart::keyPressEvent(QKeyEvent* event) {
    if (event->matches(QKeySequence::Copy)) {
        QApplication::clipboard()->setText(asTable().toText());
        return;
    }
    const int last = markCount() - 1;
    switch (event->key()) {
    case Qt::Key_Down:
    case Qt::Key_Right:
        return setCurrent(std::min(last, current_ + 1));
    case Qt::Key_Up:
    case Qt::Key_Left:
        return setCurrent(std::max(std::min(0, last), current_ - 1));
    case Qt::Key_Home:
        return setCurrent(std::min(0, last));
    case Qt::Key_End:
        return setCurrent(last);
    case Qt::Key_Return:
    case Qt::Key_Enter:
    case Qt::Key_Space:
        if (current_ >= 0)
            emit markClicked(markId(current_));
        return;
    default:
        QWidget::keyPressEvent(event);
    }
}

void PaintedChart::focusInEvent(QFocusEvent* event) {
    QWidget::focusInEvent(event);
    if (event->reason() != Qt::MouseFocusReason && current_ < 0 && markCount() > 0)
        setCurrent(0);
    update();
}

void PaintedChart::focusOutEvent(QFocusEvent* event) {
    QWidget::focusOutEvent(event);
    setCurrent(-1);
    update();
}

bool PaintedChart::event(QEvent* event) {
    if (event->type() == QEvent::ToolTip) {
        const auto* help = static_cast<QHelpEvent*>(event);
        const int mark = markAt(QPointF(help->pos()));
        if (mark >= 0) {
            QToolTip::showText(help->globalPos(), markText(mark), this);
        } else {
            QToolTip::hideText();
        }
        return true;
    }
    return QWidget::event(event);
}

} // namespace milehold::ui
