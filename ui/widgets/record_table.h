// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QTableView>

namespace milehold::ui {

class RecordProxy;

/// A table of records over a plain model: whole rows, sorted by kSortRole with ties by kIdRole, Tab leaves
/// it, Ctrl+C copies the chosen rows as tab-separated text, Return or a double click opens one. Row numbers
/// in its signals are the model's own, whatever the sorting.
class RecordTable : public QTableView {
    Q_OBJECT
public:
    explicit RecordTable(QWidget* parent = nullptr);

    /// The table reads the model through its own sorting; it does not own it.
    void setRecords(QAbstractItemModel* model);
    QAbstractItemModel* records() const;

    /// What to say, and to do first, while there are no rows.
    void setEmptyText(const QString& text);
    const QString& emptyText() const { return emptyText_; }
    /// Keeps only rows in which some column holds all of these words.
    void setFilterText(const QString& words);

    /// The row with the keyboard, -1 without one.
    int currentRecord() const;
    void setCurrentRecord(int row);
    /// The chosen rows, headers first, as tab-separated text.
    QString chosenAsText() const;

signals:
    void opened(int row); ///< Return or double click
    void currentChangedTo(int row);

protected:
    void keyPressEvent(QKeyEvent* event) override;
    void paintEvent(QPaintEvent* event) override;
    void focusInEvent(QFocusEvent* event) override;
    void currentChanged(const QModelIndex& current, const QModelIndex& previous) override;

private:
    RecordProxy* proxy_;
    QString emptyText_;
};

} // namespace milehold::ui
