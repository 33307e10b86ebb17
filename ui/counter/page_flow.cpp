// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/counter/page_flow.h"

#include "ui/theme/theme.h"
#include "ui/words/with_sign.h"

#include <QFontMetricsF>
#include <QPainter>

#include <utility>

namespace milehold::ui {

PageFlow::PageFlow(QSizeF sheet, double margin, double footHeight)
    : sheet_(sheet), margin_(margin), footHeight_(footHeight), bottom_(sheet.height() - margin - footHeight),
      y_(margin) {}

QFont PageFlow::fontOf(const PageText& style) {
    QFont font = theme::printFont(style.strong ? TextRole::Strong : TextRole::Body);
    font.setPixelSize(style.size);
    font.setHintingPreference(QFont::PreferNoHinting);
    return font;
}

double PageFlow::textHeight(const QString& text, double width, const PageText& style) {
    const QFontMetricsF metrics(fontOf(style));
    return metrics.boundingRect(QRectF(0, 0, width, 1e6), Qt::TextWordWrap | Qt::AlignLeft, withSign(text))
        .height();
}

double PageFlow::textWidth(const QString& text, const PageText& style) {
    return QFontMetricsF(fontOf(style)).horizontalAdvance(text);
}

void PageFlow::drawText(QPainter& painter, const QRectF& rect, const QString& text, const PageText& style) {
    painter.setFont(fontOf(style));
    painter.setPen(style.ink);
    painter.drawText(rect, static_cast<int>(Qt::TextWordWrap | style.side | Qt::AlignTop), withSign(text));
}

void PageFlow::drawLine(QPainter& painter, const QRectF& rect, const QString& text, const PageText& style) {
    painter.setFont(fontOf(style));
    painter.setPen(style.ink);
    const QString fitting = QFontMetricsF(fontOf(style)).elidedText(text, Qt::ElideRight, rect.width() + 0.5);
    painter.drawText(
        rect.adjusted(-2, 0, 2, 0)
            .adjusted(style.side & Qt::AlignRight ? 0 : 2, 0, style.side & Qt::AlignRight ? -2 : 0, 0),
        static_cast<int>(Qt::TextSingleLine | style.side | Qt::AlignTop), fitting);
}

void PageFlow::add(double height, Draw draw) {
    if (height > room() && y_ > margin_) {
        ++page_;
        y_ = margin_;
    }
    blocks_.push_back({page_, QRectF(margin_, y_, width(), height), std::move(draw)});
    y_ += height;
}

void PageFlow::addText(const QString& text, const PageText& style) {
    add(textHeight(text, width(), style),
        [text, style](QPainter& painter, const QRectF& rect) { drawText(painter, rect, text, style); });
}

void PageFlow::space(double height) {
    y_ += height;
}

void PageFlow::rule(double weight, const QColor& ink) {
    add(weight, [weight, ink](QPainter& painter, const QRectF& rect) {
        painter.fillRect(QRectF(rect.left(), rect.top(), rect.width(), weight), ink);
    });
}

void PageFlow::setFoot(std::function<void(QPainter&, const QRectF&, int, int)> foot) {
    foot_ = std::move(foot);
}

void PageFlow::paint(QPainter& painter, int page) const {
    for (const Block& block : blocks_) {
        if (block.page != page)
            continue;
        painter.save();
        block.draw(painter, block.rect);
        painter.restore();
    }
    if (!foot_)
        return;
    painter.save();
    foot_(painter, QRectF(margin_, sheet_.height() - margin_ - footHeight_, width(), footHeight_), page + 1,
          pageCount());
    painter.restore();
}

} // namespace milehold::ui
