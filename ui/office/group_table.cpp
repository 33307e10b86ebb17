// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/office/group_table.h"

#include "ui/office/group_delegate.h"
#include "ui/theme/theme.h"
#include "ui/widgets/roles.h"

#include <QHeaderView>
#include <QKeyEvent>
#include <QMouseEvent>
#include <QScrollBar>
#include <QSortFilterProxyModel>

#include <algorithm>

namespace milehold::ui {

namespace {
constexpr int kNarrowestName = 120;
}

GroupTable::GroupTable(QWidget* parent)
    : QTableView(parent), model_(new GroupModel(this)), sorted_(new QSortFilterProxyModel(this)) {
    setObjectName(QStringLiteral("groupTable"));
    setAccessibleName(tr("Groups and their figures"));
    sorted_->setSourceModel(model_);
    sorted_->setSortRole(kSortRole);
    setModel(sorted_);
    setItemDelegate(new GroupDelegate(this));
    setSelectionBehavior(QAbstractItemView::SelectItems);
    setSelectionMode(QAbstractItemView::SingleSelection);
    setEditTriggers(QAbstractItemView::NoEditTriggers);
    setTabKeyNavigation(false); // Tab leaves the table
    setMouseTracking(true);
    setShowGrid(false);
    setHorizontalScrollMode(QAbstractItemView::ScrollPerPixel);
    setVerticalScrollMode(QAbstractItemView::ScrollPerPixel);
    // A scroll bar that comes with more groups takes its width from the figures otherwise.
    connect(verticalScrollBar(), &QScrollBar::rangeChanged, this, &GroupTable::layOutColumns,
            Qt::QueuedConnection);
    verticalHeader()->hide();
    verticalHeader()->setSectionResizeMode(QHeaderView::Fixed);
    verticalHeader()->setDefaultSectionSize(48);
    horizontalHeader()->setHighlightSections(false);
    horizontalHeader()->setSectionsClickable(true);
    horizontalHeader()->setSectionResizeMode(QHeaderView::Fixed);
    // As the view has them, until a header is clicked: most repairs first.
    horizontalHeader()->setSortIndicator(-1, Qt::AscendingOrder);
    setSortingEnabled(true);
    connect(horizontalHeader(), &QHeaderView::sortIndicatorChanged, this, &GroupTable::layOutColumns);
}

void GroupTable::setView(std::shared_ptr<const OfficeView> view) {
    const int row = rowOf(currentIndex());
    const int column = currentIndex().isValid() ? currentIndex().column() : 0;
    const std::string name = row >= 0 ? model_->group(row).name : std::string();
    model_->setView(std::move(view));
    layOutColumns();
    for (int i = 0; i < model_->rowCount(); ++i) {
        if (row >= 0 && model_->group(i).name == name) {
            setCurrentIndex(sorted_->mapFromSource(model_->index(i, column)));
            return;
        }
    }
    if (model_->rowCount() > 0)
        setCurrentIndex(sorted_->index(0, 0));
}

int GroupTable::rowOf(const QModelIndex& index) const {
    return index.isValid() ? sorted_->mapToSource(index).row() : -1;
}

void GroupTable::activateFigure(const QModelIndex& index) {
    if (index.isValid())
        emit figureActivated(rowOf(index), GroupModel::figureOf(index.column()));
}

void GroupTable::toggle(const QModelIndex& index) {
    const QModelIndex name = index.siblingAtColumn(GroupModel::Name);
    const bool shown = name.data(Qt::CheckStateRole).toInt() == Qt::Checked;
    sorted_->setData(name, shown ? Qt::Unchecked : Qt::Checked, Qt::CheckStateRole);
}

void GroupTable::keyPressEvent(QKeyEvent* event) {
    switch (event->key()) {
    case Qt::Key_Return:
    case Qt::Key_Enter:
        activateFigure(currentIndex());
        return;
    case Qt::Key_Space:
        toggle(currentIndex());
        return;
    default:
        QTableView::keyPressEvent(event);
    }
}

void GroupTable::mouseReleaseEvent(QMouseEvent* event) {
    QTableView::mouseReleaseEvent(event);
    if (event->button() != Qt::LeftButton)
        return;
    const QModelIndex index = indexAt(event->position().toPoint());
    if (!index.isValid())
        return;
    const bool onMark = index.column() == GroupModel::Name &&
                        GroupDelegate::markRect(visualRect(index)).contains(event->position().toPoint());
    if (onMark) {
        toggle(index);
    } else if (index.column() != GroupModel::Name) {
        activateFigure(index);
    }
}

void GroupTable::mouseMoveEvent(QMouseEvent* event) {
    QTableView::mouseMoveEvent(event);
    const QModelIndex index = indexAt(event->position().toPoint());
    const bool opens = index.isValid() && index.column() != GroupModel::Name;
    viewport()->setCursor(opens ? Qt::PointingHandCursor : Qt::ArrowCursor);
}

void GroupTable::resizeEvent(QResizeEvent* event) {
    QTableView::resizeEvent(event);
    layOutColumns();
}

void GroupTable::currentChanged(const QModelIndex& current, const QModelIndex& previous) {
    QTableView::currentChanged(current, previous);
    emit currentGroupChanged(rowOf(current));
}

/// Figures take what they need, the name takes the rest.
void GroupTable::layOutColumns() {
    QFont head = theme::font(TextRole::Small);
    head.setWeight(QFont::Medium);
    const QFontMetrics metrics(head);
    int taken = 0;
    for (int column = GroupModel::CameBack; column < GroupModel::ColumnCount; ++column) {
        const QString title = model_->headerData(column, Qt::Horizontal, Qt::DisplayRole).toString();
        const bool sorted = horizontalHeader()->sortIndicatorSection() == column;
        const int needed = metrics.horizontalAdvance(title) + 2 * kGrid + kHalf + (sorted ? kGap : 0);
        const int width = std::max(sizeHintForColumn(column), needed);
        setColumnWidth(column, width);
        taken += width;
    }
    const int room = viewport()->width() - taken;
    setColumnWidth(GroupModel::Name, std::max(kNarrowestName, room));
    // Figures are never cut: where even the narrowest name leaves them no room, the table scrolls.
    setHorizontalScrollBarPolicy(room < kNarrowestName ? Qt::ScrollBarAsNeeded : Qt::ScrollBarAlwaysOff);
}

} // namespace milehold::ui
