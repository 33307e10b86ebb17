// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/records/history_dialog.h"

#include "ui/theme/theme.h"
#include "ui/widgets/record_table.h"
#include "ui/widgets/segmented.h"

#include <QDialogButtonBox>
#include <QHeaderView>
#include <QLabel>
#include <QPushButton>
#include <QStandardItemModel>
#include <QVBoxLayout>

namespace milehold::ui {

HistoryDialog::HistoryDialog(const QList<RecordHistory>& records, QWidget* parent)
    : QDialog(parent), records_(records), choice_(nullptr), count_(new QLabel(this)),
      table_(new RecordTable(this)) {
    setWindowTitle(tr("History"));
    resize(1080, 600);
    auto* stack = new QVBoxLayout(this);
    stack->setContentsMargins(kMargin, kMargin, kMargin, kMargin);
    stack->setSpacing(kGap);
    QStringList titles;
    for (const RecordHistory& record : records)
        titles << record.title;
    choice_ = new Segmented(titles, this);
    choice_->setAccessibleName(tr("Whose history"));
    auto* head = new QHBoxLayout;
    head->addWidget(choice_);
    head->addStretch(1);
    theme::setText(count_, TextRole::Small, true);
    head->addWidget(count_);
    stack->addLayout(head);
    table_->setObjectName(QStringLiteral("history"));
    table_->setAccessibleName(tr("Changes, newest first"));
    table_->setEmptyText(tr("Nothing was ever changed here."));
    table_->setWordWrap(false); // a long text ends in an ellipsis and stands whole in its tip
    stack->addWidget(table_, 1);
    auto* buttons = new QDialogButtonBox(QDialogButtonBox::Close, this);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    stack->addWidget(buttons);
    connect(choice_, &Segmented::chosen, this, &HistoryDialog::showRecord);
    choice_->setVisible(records.size() > 1);
    if (!records.isEmpty())
        showRecord(0);
    table_->setFocus();
}

void HistoryDialog::showRecord(int index) {
    const QList<HistoryRow>& rows = records_[index].rows;
    choice_->setCurrent(index);
    auto* model = new QStandardItemModel(static_cast<int>(rows.size()), 6, table_);
    model->setHorizontalHeaderLabels(
        {tr("When"), tr("Who"), tr("Station"), tr("Field"), tr("Before"), tr("After")});
    for (int row = 0; row < rows.size(); ++row) {
        const HistoryRow& one = rows[row];
        const QStringList cells = {one.when, one.who, one.station, one.what, one.before, one.after};
        for (int column = 0; column < cells.size(); ++column) {
            auto* item = new QStandardItem(cells[column]);
            item->setToolTip(cells[column]);
            item->setEditable(false);
            model->setItem(row, column, item);
        }
    }
    QAbstractItemModel* old = table_->records();
    table_->setRecords(model);
    table_->sortByColumn(-1, Qt::AscendingOrder); // in the order of the log, newest first
    table_->setSortingEnabled(false);
    if (old != nullptr)
        old->deleteLater();
    QHeaderView* header = table_->horizontalHeader();
    const int widths[] = {150, 130, 110, 190, 220, 220};
    for (int column = 0; column < 6; ++column)
        table_->setColumnWidth(column, widths[column]);
    header->setStretchLastSection(true);
    count_->setText(rows.size() == 1 ? tr("1 change") : tr("%1 changes").arg(rows.size()));
    if (!rows.isEmpty())
        table_->setCurrentRecord(0);
}

} // namespace milehold::ui
