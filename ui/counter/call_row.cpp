// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/counter/call_row.h"

#include "ui/theme/icons.h"
#include "ui/theme/paint.h"
#include "ui/theme/theme.h"

#include <QPainter>

namespace milehold::ui {

namespace {

constexpr int kRow = 64;
constexpr int kIcon = 18;

} // namespace

QSize CallRow::sizeHint(const QStyleOptionViewItem&, const QModelIndex&) const {
    return {200, kRow};
}

void CallRow::paint(QPainter* painter, const QStyleOptionViewItem& option, const QModelIndex& index) const {
    const Tokens& tokens = theme::tokensOf(option.widget);
    QStyleOptionViewItem cell = option;
    initStyleOption(&cell, index);
    const paint::Scope scope(*painter);
    option.widget->style()->drawPrimitive(QStyle::PE_PanelItemViewItem, &cell, painter, option.widget);
    paint::hairline(*painter, option.rect.bottomLeft(), option.rect.bottomRight(), tokens.hairline);
    const QRect text = option.rect.adjusted(kGap, 6, -kGrid, -6);
    int right = text.right();
    if (index.data(Warranty).toBool()) {
        paintIcon(*painter, QRectF(right - kIcon + 1, text.top(), kIcon, kIcon), QStringLiteral("shield"),
                  tokens.amberText);
        right -= kIcon + kHalf;
    }
    const auto line = [&](int top, int from, int to, const QFont& font, const QColor& ink,
                          const QString& words, Qt::Alignment side = Qt::AlignLeft) {
        painter->setFont(font);
        painter->setPen(ink);
        painter->drawText(QRect(from, top, to - from, 18), side | Qt::AlignVCenter | Qt::TextSingleLine,
                          painter->fontMetrics().elidedText(words, Qt::ElideRight, to - from));
    };
    const QString due = index.data(Due).toString();
    if (!due.isEmpty()) {
        const QFont small = theme::font(TextRole::Small);
        const int width = std::min(QFontMetrics(small).horizontalAdvance(due) + 2, text.width() / 2);
        line(text.top(), right - width, right, small, tokens.amberText, due, Qt::AlignRight);
        right -= width + kGrid;
    }
    line(text.top(), text.left(), right, theme::font(TextRole::Strong), tokens.ink, index.data().toString());
    line(text.top() + 18, text.left(), text.right(), theme::font(TextRole::Small), tokens.ink,
         index.data(Detail).toString());
    line(text.top() + 35, text.left(), text.right(), theme::font(TextRole::Small), tokens.inkSoft,
         index.data(Reason).toString());
}

} // namespace milehold::ui
