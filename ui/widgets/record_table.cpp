// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/widgets/record_table.h"

#include "ui/theme/paint.h"
#include "ui/theme/theme.h"
#include "ui/widgets/roles.h"

#include <QApplication>
#include <QClipboard>
#include <QHeaderView>
#include <QKeyEvent>
#include <QSortFilterProxyModel>

#include <algorithm>

namespace milehold::ui {

class RecordProxy : public QSortFilterProxyModel {
public:
    explicit RecordProxy(QObject* parent) : QSortFilterProxyModel(parent) { setSortLocaleAware(true); }

    void setWords(const QStringList& words) {
        words_ = words;
        invalidateFilter();
    }

protected:
    bool filterAcceptsRow(int row, const QModelIndex& parent) const override {
        if (words_.isEmpty())
            return true;
        QString all;
        for (int column = 0; column < sourceModel()->columnCount(parent); ++column) {
            all += sourceModel()->index(row, column, parent).data().toString() + u'\n';
        }
        return std::all_of(words_.begin(), words_.end(),
                           [&all](const QString& word) { return all.contains(word, Qt::CaseInsensitive); });
    }

    bool lessThan(const QModelIndex& a, const QModelIndex& b) const override {
        const QVariant left = a.data(kSortRole);
        const QVariant right = b.data(kSortRole);
        // What is unknown stands after everything known.
        if (left.isValid() != right.isValid() && (hasSortRole(a) || hasSortRole(b)))
            return left.isValid();
        int order = 0;
        if (left.isValid() && right.isValid()) {
            const QPartialOrdering compared = QVariant::compare(left, right);
            order = left.typeId() == QMetaType::QString
                        ? QString::localeAwareCompare(left.toString(), right.toString())
                    : compared < 0 ? -1
                    : compared > 0 ? 1
                                   : 0;
        } else {
            order = QString::localeAwareCompare(a.data().toString(), b.data().toString());
        }
        if (order != 0)
            return order < 0;
        const QString idA = a.data(kIdRole).toString();
        const QString idB = b.data(kIdRole).toString();
        if (idA != idB)
            return idA < idB;
        return a.row() < b.row();
    }

private:
    static bool hasSortRole(const QModelIndex& index) { return index.data(kSortRole).isValid(); }

    QStringList words_;
};

RecordTable::RecordTable(QWidget* parent) : QTableView(parent), proxy_(new RecordProxy(this)) {
    QTableView::setModel(proxy_);
    setSelectionBehavior(SelectRows);
    setSelectionMode(ExtendedSelection);
    setTabKeyNavigation(false);
    setShowGrid(false);
    setAlternatingRowColors(false);
    setWordWrap(false);
    setMouseTracking(true);
    setSortingEnabled(true);
    setHorizontalScrollMode(ScrollPerPixel);
    setCornerButtonEnabled(false);
    verticalHeader()->hide();
    verticalHeader()->setSectionResizeMode(QHeaderView::Fixed);
    verticalHeader()->setDefaultSectionSize(kRowHeight);
    QHeaderView* head = horizontalHeader();
    head->setHighlightSections(false);
    head->setStretchLastSection(true);
    head->setSectionsMovable(true);
    head->setDefaultAlignment(Qt::AlignLeft | Qt::AlignVCenter);
    head->setMinimumSectionSize(48);
    connect(this, &QTableView::doubleClicked, this,
            [this](const QModelIndex& index) { emit opened(proxy_->mapToSource(index).row()); });
}

void RecordTable::setRecords(QAbstractItemModel* model) {
    proxy_->setSourceModel(model);
}
QAbstractItemModel* RecordTable::records() const {
    return proxy_->sourceModel();
}

void RecordTable::setEmptyText(const QString& text) {
    emptyText_ = text;
    viewport()->update();
}

void RecordTable::setFilterText(const QString& words) {
    proxy_->setWords(words.split(u' ', Qt::SkipEmptyParts));
}

int RecordTable::currentRecord() const {
    return currentIndex().isValid() ? proxy_->mapToSource(currentIndex()).row() : -1;
}

void RecordTable::setCurrentRecord(int row) {
    if (!proxy_->sourceModel() || row < 0) {
        setCurrentIndex({});
        return;
    }
    const QModelIndex index = proxy_->mapFromSource(proxy_->sourceModel()->index(row, 0));
    if (!index.isValid())
        return;
    const int column = std::max(0, currentIndex().column());
    setCurrentIndex(index.siblingAtColumn(column));
    scrollTo(currentIndex());
}

QString RecordTable::chosenAsText() const {
    QStringList lines;
    QList<int> columns;
    for (int visual = 0; visual < horizontalHeader()->count(); ++visual) {
        const int column = horizontalHeader()->logicalIndex(visual);
        if (!isColumnHidden(column))
            columns << column;
    }
    QStringList cells;
    for (const int column : columns)
        cells << proxy_->headerData(column, Qt::Horizontal).toString();
    lines << cells.join(u'\t');
    QModelIndexList shown = selectionModel()->selectedRows();
    std::sort(shown.begin(), shown.end(), [](const auto& a, const auto& b) { return a.row() < b.row(); });
    for (const QModelIndex& index : shown) {
        cells.clear();
        for (const int column : columns) {
            QString cell = index.siblingAtColumn(column).data().toString();
            cell.replace(u'\t', u' ').replace(u'\n', u' ');
            cells << cell;
        }
        lines << cells.join(u'\t');
    }
    return lines.join(u'\n');
}

void RecordTable::keyPressEvent(QKeyEvent* event) {
    if (event->matches(QKeySequence::Copy)) {
        QApplication::clipboard()->setText(chosenAsText());
        return;
    }
    if ((event->key() == Qt::Key_Return || event->key() == Qt::Key_Enter) && currentIndex().isValid()) {
        emit opened(currentRecord());
        return;
    }
    QTableView::keyPressEvent(event);
}

void RecordTable::focusInEvent(QFocusEvent* event) {
    QTableView::focusInEvent(event);
    // Arriving by Tab must show where one is.
    if (!currentIndex().isValid() && proxy_->rowCount() > 0 && event->reason() != Qt::MouseFocusReason) {
        setCurrentIndex(proxy_->index(0, horizontalHeader()->logicalIndex(0)));
    }
}

void RecordTable::currentChanged(const QModelIndex& current, const QModelIndex& previous) {
    QTableView::currentChanged(current, previous);
    if (current.row() != previous.row() || current.isValid() != previous.isValid()) {
        emit currentChangedTo(current.isValid() ? proxy_->mapToSource(current).row() : -1);
    }
}

void RecordTable::paintEvent(QPaintEvent* event) {
    QTableView::paintEvent(event);
    if (proxy_->rowCount() > 0 || emptyText_.isEmpty())
        return;
    QPainter painter(viewport());
    painter.setPen(theme::tokensOf(this).inkSoft);
    const QRect at = viewport()->rect().adjusted(kMargin, kMargin, -kMargin, -kMargin);
    painter.drawText(at, Qt::AlignHCenter | Qt::AlignTop | Qt::TextWordWrap, emptyText_);
}

} // namespace milehold::ui
