// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/bay/path_list.h"

#include "ui/theme/figures.h"
#include "ui/theme/icons.h"
#include "ui/theme/paint.h"
#include "ui/theme/theme.h"

#include <QAbstractListModel>
#include <QKeyEvent>
#include <QPainter>
#include <QStyledItemDelegate>

#include <algorithm>

namespace milehold::ui {

class PathListModel : public QAbstractListModel {
public:
    using QAbstractListModel::QAbstractListModel;

    int rowCount(const QModelIndex& parent = {}) const override {
        return parent.isValid() ? 0 : static_cast<int>(rows_.size());
    }
    QVariant data(const QModelIndex& index, int role) const override {
        if (!index.isValid())
            return {};
        const PathRow& row = at(index.row());
        if (role == Qt::DisplayRole)
            return row.name;
        if (role == Qt::AccessibleTextRole)
            return QString(chosen_ && row.id == *chosen_
                               ? PathList::tr("%1, %2, chosen").arg(row.name, row.detail)
                               : PathList::tr("%1, %2").arg(row.name, row.detail));
        if (role == Qt::ToolTipRole)
            return row.applies
                       ? row.name
                       : PathList::tr("%1\nNot listed for this engine, year and calibration").arg(row.name);
        return {};
    }
    void set(std::vector<PathRow> rows) {
        if (rows == rows_)
            return;
        beginResetModel();
        rows_ = std::move(rows);
        endResetModel();
    }
    void setChosen(std::optional<core::RepairPathId> path) {
        chosen_ = path;
        if (!rows_.empty())
            emit dataChanged(index(0), index(rowCount() - 1));
    }
    const PathRow& at(int row) const { return rows_[static_cast<std::size_t>(row)]; }
    bool isChosen(int row) const { return chosen_ && at(row).id == *chosen_; }

private:
    std::vector<PathRow> rows_;
    std::optional<core::RepairPathId> chosen_;
};

namespace {

constexpr int kRow = 46;

class PathDelegate : public QStyledItemDelegate {
public:
    PathDelegate(const PathListModel* model, QObject* parent) : QStyledItemDelegate(parent), model_(model) {}

    QSize sizeHint(const QStyleOptionViewItem&, const QModelIndex&) const override { return {200, kRow}; }

    void paint(QPainter* painter, const QStyleOptionViewItem& option,
               const QModelIndex& index) const override {
        const paint::Scope scope(*painter);
        const Tokens& tokens = theme::tokensOf(option.widget);
        const PathRow& row = model_->at(index.row());
        const bool chosen = model_->isChosen(index.row());
        const QRectF cell = QRectF(option.rect).adjusted(2, 1, -2, -1);
        if (chosen)
            paint::box(*painter, cell, tokens.accentSoft, tokens.accentText);
        else if (option.state & QStyle::State_MouseOver)
            paint::box(*painter, cell, mixed(tokens.surface, tokens.ink, 0.05), {});

        const QRectF mark(cell.left() + 8, cell.center().y() - 10, 20, 20);
        if (chosen) {
            paint::tick(*painter, mark.adjusted(2, 2, -2, -2), tokens.accentText, 2.5);
        } else if (index.row() < 9) {
            painter->setFont(theme::font(TextRole::Small));
            painter->setPen(tokens.inkSoft);
            painter->drawText(mark, Qt::AlignCenter, QString::number(index.row() + 1));
        }
        const double left = mark.right() + 8;
        const double room = cell.right() - left - (row.stale ? 30 : 8);
        const QFont strong = theme::font(chosen ? TextRole::Strong : TextRole::Body);
        painter->setFont(strong);
        painter->setPen(row.applies || chosen ? tokens.ink : tokens.inkSoft);
        painter->drawText(QRectF(left, cell.top() + 4, room, 19), Qt::AlignLeft | Qt::AlignVCenter,
                          QFontMetricsF(strong).elidedText(row.name, Qt::ElideRight, room));
        painter->setFont(theme::font(TextRole::Small));
        painter->setPen(tokens.inkSoft);
        const QString detail = row.applies ? row.detail : PathList::tr("not listed for this vehicle");
        drawFigures(*painter, QRectF(left, cell.top() + 23, room, 16), Qt::AlignLeft | Qt::AlignVCenter,
                    detail);
        if (row.stale)
            paintIcon(*painter, QRectF(cell.right() - 26, cell.center().y() - 9, 18, 18),
                      QStringLiteral("stale"), tokens.amberText);
        const auto* view = qobject_cast<const QListView*>(option.widget);
        if (view && view->hasFocus() && view->currentIndex() == index)
            paint::focusRing(*painter, cell, tokens);
    }

private:
    const PathListModel* model_;
};

} // namespace

PathList::PathList(QWidget* parent) : QListView(parent), model_(new PathListModel(this)) {
    setModel(model_);
    setItemDelegate(new PathDelegate(model_, this));
    setFrameShape(QFrame::NoFrame);
    setSelectionMode(NoSelection);
    setMouseTracking(true);
    setUniformItemSizes(true);
    setTabKeyNavigation(false);
    setVerticalScrollMode(ScrollPerPixel);
    setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    connect(this, &QListView::clicked, this,
            [this](const QModelIndex& index) { choose(model_->at(index.row()).id); });
}

void PathList::setPaths(std::vector<PathRow> rows) {
    model_->set(std::move(rows));
    // As high as its rows, up to six: what follows stands right under the last one.
    setFixedHeight(std::clamp(model_->rowCount(), 1, 6) * kRow + 4);
}

void PathList::setPath(std::optional<core::RepairPathId> path) {
    path_ = path;
    model_->setChosen(path);
    const int row = path ? rowOf(*path) : -1;
    if (row >= 0) {
        setCurrentIndex(model_->index(row));
        scrollTo(model_->index(row));
    }
}

int PathList::rowOf(core::RepairPathId path) const {
    for (int row = 0; row < model_->rowCount(); ++row)
        if (model_->at(row).id == path)
            return row;
    return -1;
}

QSize PathList::sizeHint() const {
    return {280, height()};
}

void PathList::choose(std::optional<core::RepairPathId> path) {
    if (path == path_)
        return;
    setPath(path);
    emit chosen();
}

void PathList::focusInEvent(QFocusEvent* event) {
    if (!currentIndex().isValid() && model_->rowCount() > 0)
        setCurrentIndex(model_->index(0));
    QListView::focusInEvent(event);
    viewport()->update();
}

void PathList::keyPressEvent(QKeyEvent* event) {
    const bool plain = !(event->modifiers() & (Qt::ControlModifier | Qt::AltModifier | Qt::MetaModifier));
    switch (event->key()) {
    case Qt::Key_Return:
    case Qt::Key_Enter:
    case Qt::Key_Space:
        if (plain && currentIndex().isValid()) {
            choose(model_->at(currentIndex().row()).id);
            return;
        }
        break;
    case Qt::Key_Delete:
    case Qt::Key_Backspace:
        choose(std::nullopt);
        return;
    default:
        break;
    }
    const int number = event->text().size() == 1 ? event->text()[0].digitValue() : -1;
    if (plain && number >= 1 && number <= model_->rowCount()) {
        choose(model_->at(number - 1).id);
        return;
    }
    QListView::keyPressEvent(event);
}

} // namespace milehold::ui
