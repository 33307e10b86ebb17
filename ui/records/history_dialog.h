// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDialog>
#include <QList>
#include <QString>

class QLabel;

namespace milehold::ui {

class RecordTable;
class Segmented;

/// One changed field in words.
struct HistoryRow {
    QString when; ///< by the locale
    QString who;
    QString station;
    QString what; ///< `Concern`, `New record: Concern`
    QString before;
    QString after;
    friend bool operator==(const HistoryRow&, const HistoryRow&) = default;
};

/// A record and everything that was done to it, newest first.
struct RecordHistory {
    QString title; ///< `Job 41`, `Vehicle`
    QList<HistoryRow> rows;
};

/// Who changed what, when and where, in one record or in several that belong together.
class HistoryDialog : public QDialog {
    Q_OBJECT
public:
    explicit HistoryDialog(const QList<RecordHistory>& records, QWidget* parent = nullptr);

    RecordTable* table() const { return table_; }
    void showRecord(int index);

private:
    QList<RecordHistory> records_;
    Segmented* choice_;
    QLabel* count_;
    RecordTable* table_;
};

} // namespace milehold::ui
