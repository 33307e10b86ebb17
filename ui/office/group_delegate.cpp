// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/office/group_delegate.h"

#include "ui/office/group_model.h"
#include "ui/theme/chart_palette.h"
#include "ui/theme/figures.h"
#include "ui/theme/theme.h"
#include "ui/words/two_lines.h"

#include <QApplication>
#include <QPainter>

namespace milehold::ui {

namespace {

constexpr int kRow = 48;
constexpr int kCheck = 16;
constexpr int kLine = 26;

void paintMark(QPainter& painter, const QRect& cell, int look, const QStyleOptionViewItem& option) {
    const Tokens& tokens = theme::tokensOf(option.widget);
    QStyleOptionButton check;
    check.palette = option.palette;
    check.rect = QRect(cell.left() + kGrid + (kLine - kCheck) / 2, cell.top() + 9, kCheck, kCheck);
    check.state = QStyle::State_Enabled | (look >= 0 ? QStyle::State_On : QStyle::State_Off);
    option.widget->style()->drawPrimitive(QStyle::PE_IndicatorCheckBox, &check, &painter, option.widget);
    if (look < 0)
        return;
    const SeriesLook line = seriesLook(look, tokens.scheme);
    QPen pen(line.colour, 2.5, Qt::SolidLine, Qt::FlatCap);
    if (!line.dash.isEmpty())
        pen.setDashPattern(line.dash);
    painter.setPen(pen);
    const int left = cell.left() + kGrid;
    const double y = cell.top() + kRow - 11;
    painter.drawLine(QPointF(left, y), QPointF(left + kLine, y));
}

} // namespace

QRect GroupDelegate::markRect(const QRect& cell) {
    return {cell.left(), cell.top(), kGrid + kLine + kHalf, cell.height()};
}

void GroupDelegate::paint(QPainter* painter, const QStyleOptionViewItem& option,
                          const QModelIndex& index) const {
    const Tokens& tokens = theme::tokensOf(option.widget);
    QStyleOptionViewItem cell = option;
    initStyleOption(&cell, index);
    painter->save();
    painter->setRenderHint(QPainter::Antialiasing);
    option.widget->style()->drawPrimitive(QStyle::PE_PanelItemViewItem, &cell, painter, option.widget);

    QRect text = option.rect.adjusted(kGrid, 6, -kGrid, -6);
    const bool isName = index.column() == GroupModel::Name;
    if (isName) {
        paintMark(*painter, option.rect, index.data(GroupModel::LookRole).toInt(), option);
        text.setLeft(markRect(option.rect).right() + kGrid);
    }
    const Qt::Alignment side = isName ? Qt::AlignLeft : Qt::AlignRight;
    const bool faint = index.data(GroupModel::FaintRole).toBool();
    const bool pointed = !isName && (option.state & QStyle::State_MouseOver);

    const QString shown = index.data(Qt::DisplayRole).toString();
    QFont figure = theme::font(faint ? TextRole::Body : TextRole::Strong);
    figure.setUnderline(pointed);
    painter->setFont(figure);
    painter->setPen(faint ? tokens.inkSoft : isName ? tokens.ink : tokens.accentText);
    if (isName && painter->fontMetrics().horizontalAdvance(shown) > text.width()) {
        drawTwoLines(*painter, text, shown);
        painter->restore();
        return paintFocus(painter, option);
    }
    const QString underText = index.data(GroupModel::UnderRole).toString();
    const double half = underText.isEmpty() ? text.height() : text.height() / 2.0 + 1;
    const QRectF upper(text.left(), text.top(), text.width(), half);
    const QRectF under(text.left(), upper.bottom(), text.width(), text.bottom() + 1 - upper.bottom());
    if (isName || pointed) {
        painter->drawText(upper, static_cast<int>(side | Qt::AlignVCenter), shown);
    } else {
        drawFigures(*painter, upper, side | Qt::AlignVCenter, shown);
    }
    painter->setFont(theme::font(TextRole::Small));
    painter->setPen(tokens.inkSoft);
    drawFigures(*painter, under, side | Qt::AlignVCenter, underText);
    painter->restore();
    paintFocus(painter, option);
}

void GroupDelegate::paintFocus(QPainter* painter, const QStyleOptionViewItem& option) {
    if (!(option.state & QStyle::State_HasFocus))
        return;
    QStyleOptionFocusRect ring;
    ring.QStyleOption::operator=(option);
    ring.state |= QStyle::State_KeyboardFocusChange;
    option.widget->style()->drawPrimitive(QStyle::PE_FrameFocusRect, &ring, painter, option.widget);
}

QSize GroupDelegate::sizeHint(const QStyleOptionViewItem& option, const QModelIndex& index) const {
    const QFont strong = theme::font(TextRole::Strong);
    const QFont small = theme::font(TextRole::Small);
    const double width = std::max(figuresWidth(strong, index.data(Qt::DisplayRole).toString()),
                                  figuresWidth(small, index.data(GroupModel::UnderRole).toString()));
    const int mark = index.column() == GroupModel::Name ? markRect(option.rect).width() : 0;
    return {static_cast<int>(width) + 2 * kGrid + mark + 2, kRow};
}

} // namespace milehold::ui
