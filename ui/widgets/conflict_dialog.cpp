// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/widgets/conflict_dialog.h"

#include "ui/theme/theme.h"

#include <QDialogButtonBox>
#include <QHeaderView>
#include <QLabel>
#include <QPushButton>
#include <QTableWidget>
#include <QVBoxLayout>

namespace milehold::ui {

ConflictDialog::ConflictDialog(const QString& heading, const QList<ConflictRow>& rows,
                               const QString& keepMine, const QString& takeTheirs, QWidget* parent)
    : QDialog(parent) {
    setObjectName(QStringLiteral("conflict"));
    setWindowTitle(tr("Two versions of one record"));
    auto* title = new QLabel(heading);
    title->setObjectName(QStringLiteral("conflictHeading"));
    title->setWordWrap(true);
    theme::setText(title, TextRole::Lead);
    auto* line = new QLabel(tr("Nothing is saved yet, and what you typed is still in the form."));
    theme::setText(line, TextRole::Body, true);

    auto* table = new QTableWidget(static_cast<int>(rows.size()), 3);
    table->setObjectName(QStringLiteral("conflictFields"));
    table->setAccessibleName(tr("Fields that differ"));
    table->setHorizontalHeaderLabels({tr("Field"), tr("Yours"), tr("Theirs")});
    table->setEditTriggers(QAbstractItemView::NoEditTriggers);
    table->setSelectionBehavior(QAbstractItemView::SelectRows);
    table->setTabKeyNavigation(false);
    table->setWordWrap(true);
    table->verticalHeader()->hide();
    table->horizontalHeader()->setSectionResizeMode(QHeaderView::Stretch);
    table->horizontalHeader()->setSectionResizeMode(0, QHeaderView::ResizeToContents);
    for (int i = 0; i < rows.size(); ++i) {
        const QString cells[] = {rows[i].field, rows[i].yours, rows[i].theirs};
        for (int column = 0; column < 3; ++column) {
            auto* item = new QTableWidgetItem(cells[column].isEmpty() ? tr("(blank)") : cells[column]);
            item->setToolTip(cells[column]);
            table->setItem(i, column, item);
        }
    }
    table->resizeRowsToContents();

    auto* buttons = new QDialogButtonBox;
    auto* mine = buttons->addButton(keepMine, QDialogButtonBox::AcceptRole);
    auto* theirs = buttons->addButton(takeTheirs, QDialogButtonBox::AcceptRole);
    auto* back = buttons->addButton(tr("&Back to the form"), QDialogButtonBox::RejectRole);
    mine->setObjectName(QStringLiteral("keepMine"));
    theirs->setObjectName(QStringLiteral("takeTheirs"));
    back->setDefault(true); // neither version goes by an Enter that was meant for the form
    connect(mine, &QPushButton::clicked, this, [this] {
        emit mineChosen();
        accept();
    });
    connect(theirs, &QPushButton::clicked, this, [this] {
        emit theirsChosen();
        accept();
    });
    connect(back, &QPushButton::clicked, this, &QDialog::reject);

    auto* stack = new QVBoxLayout(this);
    stack->setSpacing(kGap);
    stack->addWidget(title);
    stack->addWidget(line);
    stack->addWidget(table, 1);
    stack->addWidget(buttons);
    resize(760, 420);
}

} // namespace milehold::ui
