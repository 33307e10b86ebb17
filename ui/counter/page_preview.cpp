// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/counter/page_preview.h"

#include "ui/theme/theme.h"

#include <QKeyEvent>
#include <QPainter>
#include <QScrollBar>

#include <algorithm>

namespace milehold::ui {

PagePreview::PagePreview(QWidget* parent) : QAbstractScrollArea(parent) {
    setFrameShape(QFrame::NoFrame);
    setFocusPolicy(Qt::StrongFocus);
    setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    setAccessibleName(tr("Preview of the page"));
    verticalScrollBar()->setSingleStep(40);
}

void PagePreview::setSheets(const PageFlow* sheets) {
    sheets_ = sheets;
    updateBars();
    viewport()->update();
}

double PagePreview::scale() const {
    return sheets_ ? std::max(0.3, (viewport()->width() - 2.0 * kMargin) / sheets_->sheet().width()) : 1;
}

double PagePreview::sheetStep() const {
    return sheets_ ? sheets_->sheet().height() * scale() + kGap : 0;
}

void PagePreview::updateBars() {
    const double all = sheets_ ? sheets_->pageCount() * sheetStep() + kMargin + kGrid : 0;
    verticalScrollBar()->setPageStep(viewport()->height());
    verticalScrollBar()->setRange(0, std::max(0, static_cast<int>(all) - viewport()->height()));
}

void PagePreview::resizeEvent(QResizeEvent* event) {
    QAbstractScrollArea::resizeEvent(event);
    updateBars();
}

void PagePreview::keyPressEvent(QKeyEvent* event) {
    QScrollBar* bar = verticalScrollBar();
    switch (event->key()) {
    case Qt::Key_Up:
        return bar->triggerAction(QAbstractSlider::SliderSingleStepSub);
    case Qt::Key_Down:
        return bar->triggerAction(QAbstractSlider::SliderSingleStepAdd);
    case Qt::Key_PageUp:
        return bar->triggerAction(QAbstractSlider::SliderPageStepSub);
    case Qt::Key_PageDown:
        return bar->triggerAction(QAbstractSlider::SliderPageStepAdd);
    default:
        QAbstractScrollArea::keyPressEvent(event);
    }
}

void PagePreview::paintEvent(QPaintEvent*) {
    const Tokens& tokens = theme::tokensOf(this);
    QPainter painter(viewport());
    painter.fillRect(viewport()->rect(), tokens.sunken);
    if (!sheets_)
        return;
    painter.setRenderHint(QPainter::Antialiasing);
    const QSizeF sheet = sheets_->sheet() * scale();
    for (int page = 0; page < sheets_->pageCount(); ++page) {
        const double top = kMargin + page * sheetStep() - verticalScrollBar()->value();
        const QRectF rect(QPointF(kMargin, top), sheet);
        if (!rect.intersects(viewport()->rect()))
            continue;
        painter.fillRect(rect, Qt::white);
        painter.setPen(tokens.outline);
        painter.drawRect(rect);
        painter.save();
        painter.setClipRect(rect);
        painter.translate(rect.topLeft());
        painter.scale(scale(), scale());
        sheets_->paint(painter, page);
        painter.restore();
    }
}

} // namespace milehold::ui
