// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/counter/option_paint.h"

#include "ui/counter/option_model.h"
#include "ui/theme/figures.h"
#include "ui/theme/icons.h"
#include "ui/theme/paint.h"
#include "ui/words/two_lines.h"

#include <QPainter>

#include <algorithm>

namespace milehold::ui {

namespace {

constexpr int kPathHeader = 64;
constexpr int kRowHeader = 144;
constexpr double kFigureColumn = 56;

} // namespace

void OptionDelegate::paint(QPainter* painter, const QStyleOptionViewItem& option,
                           const QModelIndex& index) const {
    const Tokens& tokens = theme::tokensOf(option.widget);
    QStyleOptionViewItem cell = option;
    initStyleOption(&cell, index);
    const paint::Scope scope(*painter);
    option.widget->style()->drawPrimitive(QStyle::PE_PanelItemViewItem, &cell, painter, option.widget);
    paint::hairline(*painter, option.rect.bottomLeft(), option.rect.bottomRight(), tokens.hairline);

    const QRect text = option.rect.adjusted(kGrid + kHalf, 0, -kGrid, 0);
    const QString figure = index.data(Qt::DisplayRole).toString();
    if (index.data(OptionModel::FactRole).toBool()) {
        painter->setFont(theme::font(TextRole::Small));
        painter->setPen(tokens.inkSoft);
        drawFigures(*painter, text, Qt::AlignLeft | Qt::AlignVCenter, figure);
        return;
    }
    if (index.data(OptionModel::HorizonRole).toBool() && (option.state & QStyle::State_Selected)) {
        paint::box(*painter, QRectF(option.rect).adjusted(1, 1, -1, -2), QColor(), tokens.accentText, kRadius,
                   1.5);
    }
    const bool faint = index.data(OptionModel::FaintRole).toBool();
    const QFont figureFont = theme::font(faint ? TextRole::Body : TextRole::Lead);
    const QString under = index.data(OptionModel::UnderRole).toString();
    QRectF upper(text);
    QRectF lower(text);
    if (option.rect.height() >= kTwoLineRow) {
        const double half = text.height() / 2.0;
        upper = QRectF(text.left(), text.top() + 3, text.width(), half);
        lower = QRectF(text.left(), text.top() + half, text.width(), half - 3);
    } else {
        // Limits stand in a column of their own where the figures leave room for it.
        const double taken = std::max(kFigureColumn, figuresWidth(figureFont, figure) + kGrid);
        lower.setLeft(text.left() + taken);
    }
    painter->setFont(figureFont);
    painter->setPen(faint ? tokens.inkSoft : tokens.ink);
    drawFigures(*painter, upper, Qt::AlignLeft | Qt::AlignVCenter, figure);
    painter->setFont(theme::font(TextRole::Small));
    painter->setPen(tokens.inkSoft);
    if (lower.width() >= figuresWidth(painter->font(), under) || option.rect.height() >= kTwoLineRow) {
        drawFigures(*painter, lower, Qt::AlignLeft | Qt::AlignVCenter, under);
    }
}

OptionHeader::OptionHeader(Qt::Orientation orientation, QWidget* parent) : QHeaderView(orientation, parent) {
    setSectionsClickable(orientation == Qt::Horizontal);
    setSectionResizeMode(QHeaderView::Fixed);
    setHighlightSections(false);
}

void OptionHeader::setChosen(int section) {
    chosen_ = section;
    viewport()->update();
}

QSize OptionHeader::sizeHint() const {
    return orientation() == Qt::Horizontal ? QSize(0, kPathHeader) : QSize(kRowHeader, 0);
}

void OptionHeader::paintSection(QPainter* painter, const QRect& rect, int section) const {
    const paint::Scope scope(*painter);
    if (orientation() == Qt::Horizontal) {
        paintPath(*painter, rect, section);
    } else {
        paintRow(*painter, rect, section);
    }
}

void OptionHeader::paintPath(QPainter& painter, const QRect& rect, int section) const {
    const Tokens& tokens = theme::tokensOf(this);
    const bool chosen = section == chosen_;
    painter.fillRect(rect, chosen ? tokens.accentSoft : tokens.paper);
    if (chosen)
        painter.fillRect(QRectF(rect.left(), rect.top(), rect.width(), 3), tokens.accent);
    paint::hairline(painter, rect.bottomLeft(), rect.bottomRight(), tokens.outline);

    QRect text = rect.adjusted(kGrid + kHalf, kGrid, -kGrid, -6);
    if (model()->headerData(section, orientation(), OptionModel::NeedsYouRole).toBool()) {
        paintIcon(painter, QRectF(text.right() - 15, text.top(), 16, 16), QStringLiteral("stale"),
                  tokens.amberText);
        text.setRight(text.right() - 20);
    }
    painter.setFont(theme::font(TextRole::Strong));
    painter.setPen(tokens.ink);
    drawTwoLines(painter, text, model()->headerData(section, orientation(), Qt::DisplayRole).toString());
    painter.setFont(theme::font(TextRole::Small));
    painter.setPen(tokens.inkSoft);
    drawFigures(painter, QRectF(text.left(), text.bottom() - 16, rect.right() - kGrid - text.left(), 17),
                Qt::AlignLeft | Qt::AlignBottom,
                model()->headerData(section, orientation(), OptionModel::UnderRole).toString());
}

void OptionHeader::paintRow(QPainter& painter, const QRect& rect, int section) const {
    const Tokens& tokens = theme::tokensOf(this);
    painter.fillRect(rect, tokens.paper);
    paint::hairline(painter, rect.bottomLeft(), rect.bottomRight(), tokens.hairline);
    const QString label = model()->headerData(section, orientation(), Qt::DisplayRole).toString();
    const QString under = model()->headerData(section, orientation(), OptionModel::UnderRole).toString();
    const QRect text = rect.adjusted(0, 0, -kGrid, 0);
    if (under.isEmpty()) {
        painter.setFont(theme::font(TextRole::Small));
        painter.setPen(tokens.inkSoft);
        painter.drawText(text, Qt::AlignLeft | Qt::AlignVCenter, label);
        return;
    }
    const bool chosen = section == chosen_;
    if (chosen)
        paint::chevron(painter, QRectF(rect.right() - 15, rect.center().y() - 7, 14, 14), paint::Way::Right,
                       tokens.accentText);
    QRectF upper(text);
    QRectF lower(text);
    Qt::Alignment side = Qt::AlignLeft;
    if (rect.height() >= kTwoLineRow) {
        const double half = text.height() / 2.0;
        upper = QRectF(text.left(), text.top() + 3, text.width(), half);
        lower = QRectF(text.left(), text.top() + half, text.width(), half - 3);
    } else {
        lower.setRight(text.right() - kGap);
        side = Qt::AlignRight;
    }
    painter.setFont(theme::font(TextRole::Strong));
    painter.setPen(chosen ? tokens.accentText : tokens.ink);
    drawFigures(painter, upper, Qt::AlignLeft | Qt::AlignVCenter, label);
    const double taken = figuresWidth(painter.font(), label) + kHalf;
    painter.setFont(theme::font(TextRole::Small));
    painter.setPen(tokens.inkSoft);
    // Beside the label only where there is room for both.
    if (side == Qt::AlignLeft || taken + figuresWidth(painter.font(), under) <= lower.width())
        drawFigures(painter, lower, side | Qt::AlignVCenter, under);
}

} // namespace milehold::ui
