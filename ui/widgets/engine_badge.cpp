// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/theme/paint.h"
#include "ui/theme/theme.h"
#include "ui/widgets/engine_plan.h"
#include "ui/widgets/engine_tile.h"
#include "ui/widgets/roles.h"

#include <QApplication>

#include <algorithm>

namespace milehold::ui {

namespace {

struct Slot {
    core::Position position;
    double x = 0; // in cells from the left
};

/// Where each phaser stands in the badge; the second bank left of the first, half a cell between them.
std::vector<Slot> slotsOf(const EngineBadge& badge, double& cells) {
    std::vector<Slot> result;
    const auto add = [&](int bank, bool exhaustFirst) {
        std::vector<core::Position> own;
        for (const core::Position& p : badge.positions) {
            if (p.bank == bank)
                own.push_back(p);
        }
        std::sort(own.begin(), own.end());
        if (exhaustFirst)
            std::reverse(own.begin(), own.end());
        for (const core::Position& p : own) {
            result.push_back({p, cells});
            cells += 1;
        }
    };
    if (badge.banks > 1) {
        add(2, true);
        cells += 0.5;
    }
    add(1, false);
    return result;
}

} // namespace

double engineBadgeWidth(const EngineBadge& badge, double height) {
    double cells = 0;
    slotsOf(badge, cells);
    return std::max(1.0, cells) * height * 0.62;
}

void paintEngineBadge(QPainter& painter, const QRectF& rect, const EngineBadge& badge, const Tokens& t) {
    const paint::Scope scope(painter);
    double cells = 0;
    const std::vector<Slot> places = slotsOf(badge, cells);
    if (places.empty())
        return;
    const double cell = std::min(rect.height() * 0.62, rect.width() / cells);
    const double side = cell * 0.74;
    for (const Slot& place : places) {
        const auto found = badge.states.find(place.position);
        const PhaserState state = found == badge.states.end() ? PhaserState{} : found->second;
        const double x = rect.left() + place.x * cell + (cell - side) / 2;
        const QRectF tile(x, rect.bottom() - side - 1, side, side);
        const QPointF top(tile.center().x(), rect.top() + rect.height() * 0.14);
        const QColor line = state.work == PhaserWork::Untouched ? t.outline : t.accentText;
        painter.setPen(QPen(line, std::max(1.0, side * 0.12)));
        painter.drawLine(top, QPointF(tile.center().x(), tile.top()));
        paint::box(painter, tile, state.work == PhaserWork::Replaced ? t.accentText : QColor(), line,
                   side * 0.2, std::max(1.0, side * 0.12));
        if (state.work == PhaserWork::Reused) {
            painter.drawLine(tile.bottomLeft() + QPointF(side * 0.2, -side * 0.2),
                             tile.topRight() + QPointF(-side * 0.2, side * 0.2));
        }
        if (state.noisy) {
            const QRectF wave(tile.left() - side * 0.1, rect.top(), side * 1.2, rect.height() * 0.2);
            const QColor colour = t.scheme == Scheme::Dark ? t.amber : t.amberText;
            paintNoise(painter, wave, colour, std::max(1.0, side * 0.14));
        }
    }
}

QString describe(const EngineBadge& badge) {
    QStringList replaced, reused, noisy;
    for (const core::Position& position : badge.positions) {
        const auto found = badge.states.find(position);
        if (found == badge.states.end())
            continue;
        const QString name = positionShortName(position, badge.banks);
        if (found->second.work == PhaserWork::Replaced)
            replaced << name;
        if (found->second.work == PhaserWork::Reused)
            reused << name;
        if (found->second.noisy)
            noisy << name;
    }
    const QString comma = QStringLiteral(", ");
    QStringList parts;
    if (!replaced.isEmpty())
        parts << EnginePlan::tr("Replaced: %1").arg(replaced.join(comma));
    if (!reused.isEmpty())
        parts << EnginePlan::tr("Reused: %1").arg(reused.join(comma));
    if (!noisy.isEmpty())
        parts << EnginePlan::tr("Noisy: %1").arg(noisy.join(comma));
    return parts.isEmpty() ? EnginePlan::tr("No phaser touched") : parts.join(QStringLiteral("; "));
}

void EngineBadgeDelegate::paint(QPainter* painter, const QStyleOptionViewItem& given,
                                const QModelIndex& index) const {
    const QVariant value = index.data(kBadgeRole);
    if (!value.canConvert<EngineBadge>()) {
        QStyledItemDelegate::paint(painter, given, index);
        return;
    }
    QStyleOptionViewItem option = given;
    initStyleOption(&option, index);
    option.text.clear();
    option.icon = {};
    const QStyle* style = option.widget ? option.widget->style() : QApplication::style();
    style->drawControl(QStyle::CE_ItemViewItem, &option, painter, option.widget);
    const double height = std::min(22.0, option.rect.height() - 8.0);
    const QRectF at(option.rect.left() + 10, option.rect.center().y() - height / 2 + 1,
                    option.rect.width() - 16, height);
    paintEngineBadge(*painter, at, value.value<EngineBadge>(), theme::tokensOf(option.widget));
}

QSize EngineBadgeDelegate::sizeHint(const QStyleOptionViewItem&, const QModelIndex& index) const {
    const auto badge = index.data(kBadgeRole).value<EngineBadge>();
    return {static_cast<int>(engineBadgeWidth(badge, 22)) + 20, kRowHeight};
}

} // namespace milehold::ui
