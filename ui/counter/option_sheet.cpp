// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/counter/option_sheet.h"

#include "ui/counter/option_paint.h"

#include <QKeyEvent>
#include <QMouseEvent>
#include <QScrollBar>

#include <algorithm>

namespace milehold::ui {

namespace {

constexpr int kNarrowest = 138;
constexpr int kOneLineWidth = 160; // from here on limits fit beside a chance

OptionHeader* headerOf(QHeaderView* view) {
    return static_cast<OptionHeader*>(view);
}

/// The first path that may say the most.
int firstWorthChoosing(const core::Quote& quote) {
    int best = quote.paths.empty() ? -1 : 0;
    for (std::size_t i = 0; i < quote.paths.size(); ++i) {
        if (quote.paths[i].strength > quote.paths[static_cast<std::size_t>(best)].strength)
            best = static_cast<int>(i);
    }
    return best;
}

} // namespace

OptionSheet::OptionSheet(QWidget* parent) : QTableView(parent), model_(new OptionModel(this)) {
    setObjectName(QStringLiteral("optionSheet"));
    setAccessibleName(tr("Repair paths side by side"));
    setHorizontalHeader(new OptionHeader(Qt::Horizontal, this));
    setVerticalHeader(new OptionHeader(Qt::Vertical, this));
    setModel(model_);
    setItemDelegate(new OptionDelegate(this));
    setSelectionBehavior(QAbstractItemView::SelectColumns);
    setSelectionMode(QAbstractItemView::SingleSelection);
    setEditTriggers(QAbstractItemView::NoEditTriggers);
    setTabKeyNavigation(false);
    setShowGrid(false);
    setCornerButtonEnabled(false);
    setFrameShape(QFrame::NoFrame);
    setVerticalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    setHorizontalScrollMode(QAbstractItemView::ScrollPerPixel);
    setVerticalScrollMode(QAbstractItemView::ScrollPerPixel);
    connect(horizontalHeader(), &QHeaderView::sectionClicked, this, &OptionSheet::choosePath);
}

void OptionSheet::setQuote(std::shared_ptr<const core::Quote> quote, const std::string& currency) {
    const auto before =
        chosen_ >= 0 && model_->quote() ? std::optional(model_->path(chosen_).path) : std::nullopt;
    filling_ = true;
    model_->setQuote(std::move(quote), currency);
    filling_ = false;
    chosen_ = -1;
    layOut();
    const core::Quote* shown = model_->quote();
    if (!shown || shown->paths.empty()) {
        headerOf(horizontalHeader())->setChosen(-1);
        return;
    }
    int column = firstWorthChoosing(*shown);
    for (std::size_t i = 0; before && i < shown->paths.size(); ++i) {
        if (shown->paths[i].path == *before)
            column = static_cast<int>(i);
    }
    put(column);
}

void OptionSheet::setRows(OptionModel::Rows rows) {
    const int column = chosen_;
    filling_ = true;
    model_->setRows(rows);
    filling_ = false;
    layOut();
    if (column >= 0)
        put(column);
}

void OptionSheet::forgetChoice() {
    chosen_ = -1;
}

/// Puts the cursor on a path at the quote's horizon, without asking for another one.
void OptionSheet::put(int column) {
    filling_ = true;
    setCurrentIndex(model_->index(std::max(0, model_->horizonRow()), column));
    filling_ = false;
    const bool isOther = column != chosen_;
    chosen_ = column;
    headerOf(horizontalHeader())->setChosen(column);
    headerOf(verticalHeader())->setChosen(model_->horizonRow());
    if (isOther)
        emit pathChosen(column);
}

void OptionSheet::choosePath(int column) {
    if (column >= 0 && column < model_->columnCount())
        put(column);
}

void OptionSheet::keyPressEvent(QKeyEvent* event) {
    if ((event->key() == Qt::Key_Return || event->key() == Qt::Key_Enter) && chosen_ >= 0) {
        emit jobsAsked(chosen_);
        return;
    }
    QTableView::keyPressEvent(event);
}

void OptionSheet::mouseDoubleClickEvent(QMouseEvent* event) {
    QTableView::mouseDoubleClickEvent(event);
    if (const QModelIndex index = indexAt(event->position().toPoint()); index.isValid())
        emit jobsAsked(index.column());
}

void OptionSheet::resizeEvent(QResizeEvent* event) {
    QTableView::resizeEvent(event);
    layOut();
}

void OptionSheet::currentChanged(const QModelIndex& current, const QModelIndex& previous) {
    QTableView::currentChanged(current, previous);
    if (filling_ || !current.isValid())
        return;
    if (current.column() != chosen_) {
        chosen_ = current.column();
        headerOf(horizontalHeader())->setChosen(chosen_);
        emit pathChosen(chosen_);
    }
    const auto distance = model_->distanceOf(current.row());
    const bool speaks = model_->rows() != OptionModel::Rows::FromHere && distance; // Basis has no distances
    if (speaks && *distance != model_->path(chosen_).horizon.at)
        emit horizonChosen(*distance);
}

void OptionSheet::layOut() {
    const int columns = model_->columnCount();
    if (columns == 0)
        return;
    const int width = std::max(viewport()->width() / columns, kNarrowest);
    for (int column = 0; column < columns; ++column)
        setColumnWidth(column, width);
    const bool narrow = width < kOneLineWidth;
    for (int row = 0; row < model_->rowCount(); ++row) {
        const bool isFact = model_->index(row, 0).data(OptionModel::FactRole).toBool();
        setRowHeight(row, isFact ? kFactRow : narrow ? kTwoLineRow : kOneLineRow);
    }
    const bool scrolls = width * columns > viewport()->width();
    const int bar = scrolls ? horizontalScrollBar()->sizeHint().height() : 0;
    setFixedHeight(horizontalHeader()->sizeHint().height() + verticalHeader()->length() + bar);
}

} // namespace milehold::ui
