// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/backup/backups_dialog.h"

#include "ui/theme/icons.h"
#include "ui/theme/theme.h"

#include <QHBoxLayout>
#include <QHeaderView>
#include <QLabel>
#include <QLocale>
#include <QPushButton>
#include <QTreeWidget>
#include <QVBoxLayout>

namespace milehold::ui {

namespace {

enum BackupColumn { Made, Why, Jobs, Size, Odd, BackupColumns };
constexpr int kNameRole = Qt::UserRole;

QLabel* sentence(const QString& name) {
    auto* label = new QLabel;
    label->setObjectName(name);
    label->setWordWrap(true);
    label->setTextInteractionFlags(Qt::TextSelectableByMouse | Qt::TextSelectableByKeyboard);
    return label;
}

} // namespace

BackupsDialog::BackupsDialog(QWidget* parent) : QDialog(parent) {
    setObjectName(QStringLiteral("backups"));
    setWindowTitle(tr("Backups"));
    resize(860, 560);
    state_ = sentence(QStringLiteral("backupState"));
    list_ = new QTreeWidget;
    list_->setObjectName(QStringLiteral("backupList"));
    list_->setAccessibleName(tr("Backups of this shop, newest first"));
    list_->setRootIsDecorated(false);
    list_->setUniformRowHeights(true);
    list_->setAllColumnsShowFocus(true);
    list_->setHeaderLabels({tr("Made"), tr("Why"), tr("Jobs"), tr("Size"), tr("Look out")});
    list_->header()->setSectionResizeMode(QHeaderView::ResizeToContents);
    list_->header()->setStretchLastSection(true);
    question_ = sentence(QStringLiteral("restoreQuestion"));
    note_ = sentence(QStringLiteral("backupNote"));

    const auto button = [](const QString& iconName, const QString& text, const QString& name) {
        auto* made = new QPushButton(icon(iconName), text);
        made->setObjectName(name);
        made->setAutoDefault(false);
        return made;
    };
    make_ = button(QStringLiteral("backup"), tr("Back up &now"), QStringLiteral("backUpNow"));
    restore_ = button(QStringLiteral("undo"), tr("&Restore this one…"), QStringLiteral("restore"));
    sure_ = button(QStringLiteral("check"), tr("&Yes, restore it"), QStringLiteral("restoreSure"));
    look_ = button(QStringLiteral("search"), tr("&Look at it, read only"), QStringLiteral("look"));
    test_ = button(QStringLiteral("shield"), tr("&Test a restore"), QStringLiteral("test"));
    copy_ = button(QStringLiteral("export"), tr("&Copy to another disk…"), QStringLiteral("copy"));

    auto* row = new QHBoxLayout;
    row->setSpacing(kGrid);
    for (auto* one : {make_, restore_, look_, test_, copy_})
        row->addWidget(one);
    row->addStretch(1);
    auto* ask = new QHBoxLayout;
    ask->setSpacing(kGrid);
    ask->addWidget(question_, 1);
    ask->addWidget(sure_);
    auto* stack = new QVBoxLayout(this);
    stack->setContentsMargins(kMargin, kMargin, kMargin, kMargin);
    stack->setSpacing(kGap);
    stack->addWidget(state_);
    stack->addWidget(list_, 1);
    stack->addLayout(ask);
    stack->addWidget(note_);
    stack->addLayout(row);

    connect(list_, &QTreeWidget::currentItemChanged, this, &BackupsDialog::follow);
    connect(make_, &QPushButton::clicked, this, &BackupsDialog::backUpWanted);
    connect(restore_, &QPushButton::clicked, this, &BackupsDialog::askForRestore);
    connect(sure_, &QPushButton::clicked, this, [this] { emit restoreWanted(chosen()); });
    connect(look_, &QPushButton::clicked, this, [this] { emit lookWanted(chosen()); });
    connect(test_, &QPushButton::clicked, this, [this] { emit testWanted(chosen()); });
    connect(copy_, &QPushButton::clicked, this, [this] { emit copyWanted(chosen()); });
    setState({});
    setNote({});
    follow();
}

void BackupsDialog::setRows(const QList<BackupRow>& rows) {
    const QString kept = chosen();
    const QLocale locale;
    list_->clear();
    for (const BackupRow& row : rows) {
        auto* item = new QTreeWidgetItem(list_);
        item->setData(Made, kNameRole, row.name);
        item->setText(Made, locale.toString(row.at.toLocalTime(), QLocale::ShortFormat));
        item->setText(Why, row.reason);
        item->setText(Jobs, locale.toString(row.jobs));
        item->setText(Size, locale.formattedDataSize(row.bytes));
        item->setText(Odd, row.warning);
        item->setTextAlignment(Jobs, Qt::AlignRight | Qt::AlignVCenter);
        item->setTextAlignment(Size, Qt::AlignRight | Qt::AlignVCenter);
        if (!row.warning.isEmpty())
            item->setIcon(Odd, icon(QStringLiteral("warning")));
        if (row.name == kept)
            list_->setCurrentItem(item);
    }
    if (list_->currentItem() == nullptr && list_->topLevelItemCount() > 0)
        list_->setCurrentItem(list_->topLevelItem(0));
    follow();
}

void BackupsDialog::setState(const QString& sentence) {
    state_->setText(sentence);
    state_->setVisible(!sentence.isEmpty());
}

void BackupsDialog::setNote(const QString& sentence) {
    note_->setText(sentence);
    note_->setVisible(!sentence.isEmpty());
}

void BackupsDialog::setBusy(bool busy) {
    busy_ = busy;
    follow();
}

QString BackupsDialog::chosen() const {
    const auto* item = list_->currentItem();
    return item == nullptr ? QString() : item->data(Made, kNameRole).toString();
}

void BackupsDialog::follow() {
    const bool any = !chosen().isEmpty() && !busy_;
    make_->setEnabled(!busy_);
    for (auto* one : {restore_, look_, test_, copy_})
        one->setEnabled(any);
    // The question belongs to the row for which it was asked.
    question_->hide();
    sure_->hide();
}

void BackupsDialog::askForRestore() {
    const auto* item = list_->currentItem();
    if (item == nullptr)
        return;
    question_->setText(
        tr("The shop goes back to %1 (jobs: %2). What was saved after that is no longer in it; a backup "
           "of today's state is made first and stays in this list.")
            .arg(item->text(Made), item->text(Jobs)));
    question_->show();
    sure_->show();
    sure_->setFocus();
}

} // namespace milehold::ui
