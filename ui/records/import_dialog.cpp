// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/records/import_dialog.h"

#include "ui/theme/icons.h"
#include "ui/theme/theme.h"
#include "ui/widgets/record_table.h"

#include <QCheckBox>
#include <QComboBox>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QLabel>
#include <QPushButton>
#include <QStandardItemModel>
#include <QTableWidget>
#include <QVBoxLayout>

namespace milehold::ui {

namespace {

QString readable(const QString& column) {
    return QString(column).replace(QChar(u'_'), QChar(u' '));
}

} // namespace

ImportDialog::ImportDialog(QWidget* parent)
    : QDialog(parent), kind_(new QComboBox(this)), file_(new QLabel(this)), preview_(new QTableWidget(this)),
      update_(new QCheckBox(tr("Rows with the key of a record that &differs replace it"), this)),
      goodRows_(new QCheckBox(tr("Take the &good rows and leave the others out"), this)),
      sentence_(new QLabel(this)), faults_(new RecordTable(this)), try_(new QPushButton(tr("&Try it"), this)),
      import_(new QPushButton(tr("&Import"), this)) {
    setWindowTitle(tr("Import a table"));
    resize(1080, 680);
    auto* stack = new QVBoxLayout(this);
    stack->setContentsMargins(kMargin, kMargin, kMargin, kMargin);
    stack->setSpacing(kGap);
    auto* head = new QHBoxLayout;
    auto* label = new QLabel(tr("Records of the &kind"), this);
    kind_->addItems(
        {tr("Customers"), tr("Vehicles"), tr("Jobs"), tr("Follow-up calls"), tr("Odometer readings")});
    label->setBuddy(kind_);
    auto* choose = new QPushButton(icon(QStringLiteral("open")), tr("&Choose a CSV file"), this);
    file_->setTextFormat(Qt::PlainText);
    theme::setText(file_, TextRole::Small, true);
    head->addWidget(label);
    head->addWidget(kind_);
    head->addWidget(choose);
    head->addWidget(file_, 1);
    stack->addLayout(head);
    preview_->setAccessibleName(tr("Which column of the file is which, and its first rows"));
    preview_->setEditTriggers(QAbstractItemView::NoEditTriggers);
    preview_->setTabKeyNavigation(false);
    preview_->verticalHeader()->hide();
    stack->addWidget(preview_, 3);
    stack->addWidget(update_);
    stack->addWidget(goodRows_);
    sentence_->setWordWrap(true);
    sentence_->setTextFormat(Qt::PlainText);
    stack->addWidget(sentence_);
    faults_->setAccessibleName(tr("Rows that cannot be taken"));
    faults_->setEmptyText(
        tr("A trial lists here each row that cannot be taken, with the reason. It writes nothing."));
    stack->addWidget(faults_, 2);
    auto* row = new QHBoxLayout;
    auto* close = new QPushButton(tr("Close"), this);
    theme::setRole(import_, ButtonRole::Primary);
    row->addStretch(1);
    row->addWidget(try_);
    row->addWidget(import_);
    row->addWidget(close);
    stack->addLayout(row);
    connect(choose, &QPushButton::clicked, this, &ImportDialog::fileWanted);
    connect(close, &QPushButton::clicked, this, &QDialog::reject);
    connect(try_, &QPushButton::clicked, this, &ImportDialog::trialWanted);
    connect(import_, &QPushButton::clicked, this, &ImportDialog::importWanted);
    connect(kind_, &QComboBox::currentIndexChanged, this, [this](int kind) {
        forgetTrial();
        emit kindChanged(kind);
    });
    connect(update_, &QCheckBox::toggled, this, [this] { forgetTrial(); });
    connect(goodRows_, &QCheckBox::toggled, this, [this] { updateButtons(); });
    setOutcome({});
    forgetTrial();
    sentence_->setText(
        tr("The file is comma-separated, UTF-8, with a header row. A backup is made before anything "
           "is taken, and the same file twice adds nothing twice."));
    choose->setFocus();
}

int ImportDialog::kind() const {
    return kind_->currentIndex();
}

void ImportDialog::setKind(int kind) {
    kind_->setCurrentIndex(kind);
}

void ImportDialog::setStart(const ImportStart& start) {
    start_ = start;
    file_->setText(start.fileName);
    forgetTrial();
    showPreview();
}

void ImportDialog::showPreview() {
    const int columns = static_cast<int>(start_.header.size());
    const int rows = static_cast<int>(start_.rows.size());
    choices_.clear();
    preview_->clear();
    preview_->setColumnCount(columns);
    preview_->setRowCount(rows + 1);
    preview_->setHorizontalHeaderLabels(start_.header);
    for (int column = 0; column < columns; ++column) {
        auto* choice = new QComboBox(preview_);
        choice->addItem(tr("left out"), QString());
        for (const QString& ours : start_.columns) {
            const bool needed = start_.required.contains(ours);
            choice->addItem(needed ? tr("%1 (needed)").arg(readable(ours)) : readable(ours), ours);
        }
        choice->setCurrentIndex(std::max(0, choice->findData(start_.guessed.value(column))));
        choice->setAccessibleName(tr("Column %1 of the file is").arg(start_.header[column]));
        connect(choice, &QComboBox::currentIndexChanged, this, [this] { forgetTrial(); });
        preview_->setCellWidget(0, column, choice);
        choices_.push_back(choice);
        for (int row = 0; row < rows; ++row)
            preview_->setItem(row + 1, column, new QTableWidgetItem(start_.rows[row].value(column)));
        preview_->setColumnWidth(column, 170);
    }
    preview_->setRowHeight(0, 40);
    updateButtons();
}

QStringList ImportDialog::columns() const {
    QStringList all;
    for (const QComboBox* choice : choices_)
        all << choice->currentData().toString();
    return all;
}

bool ImportDialog::goodRowsOnly() const {
    return goodRows_->isChecked();
}

bool ImportDialog::replaces() const {
    return update_->isChecked();
}

void ImportDialog::forgetTrial() {
    trial_.reset();
    updateButtons();
}

void ImportDialog::setBusy(const QString& what) {
    busy_ = !what.isEmpty();
    if (busy_)
        sentence_->setText(what);
    updateButtons();
}

void ImportDialog::setOutcome(const ImportOutcome& outcome) {
    busy_ = false;
    trial_ = outcome;
    auto* model = new QStandardItemModel(static_cast<int>(outcome.faults.size()), 3, faults_);
    model->setHorizontalHeaderLabels({tr("Line"), tr("Column"), tr("What is wrong, and what was expected")});
    for (int row = 0; row < model->rowCount(); ++row) {
        const ImportFault& fault = outcome.faults[row];
        const QStringList cells = {fault.line, readable(fault.column), fault.what};
        for (int column = 0; column < 3; ++column) {
            auto* item = new QStandardItem(cells[column]);
            item->setEditable(false);
            model->setItem(row, column, item);
        }
    }
    QAbstractItemModel* old = faults_->records();
    faults_->setRecords(model);
    faults_->sortByColumn(-1, Qt::AscendingOrder); // by line, as numbers
    faults_->setSortingEnabled(false);
    if (old != nullptr)
        old->deleteLater();
    faults_->setColumnWidth(0, 80);
    faults_->setColumnWidth(1, 160);
    faults_->horizontalHeader()->setStretchLastSection(true);
    const QString counts = tr("Rows: %1 (%2 new, %3 changed, %4 there already)")
                               .arg(outcome.rows)
                               .arg(outcome.added)
                               .arg(outcome.changed)
                               .arg(outcome.there);
    // A row may have several faults, and not all of very many are listed.
    const auto leftOut = outcome.rows - outcome.added - outcome.changed - outcome.there;
    if (!outcome.trouble.isEmpty())
        sentence_->setText(outcome.trouble);
    else if (outcome.kept)
        sentence_->setText(tr("Imported. %1, left out: %2.").arg(counts).arg(leftOut));
    else if (outcome.faults.isEmpty())
        sentence_->setText(tr("Every row can be taken. %1. Nothing is written yet.").arg(counts));
    else
        sentence_->setText(tr("%1. Faults: %2. Nothing is written.").arg(counts).arg(outcome.faults.size()));
    if (outcome.kept)
        trial_.reset();
    updateButtons();
}

void ImportDialog::updateButtons() {
    QStringList missing = start_.required;
    for (const QString& column : columns())
        missing.removeAll(column);
    const bool ready = !start_.header.isEmpty() && missing.isEmpty() && !busy_;
    try_->setEnabled(ready);
    try_->setToolTip(missing.isEmpty() ? QString()
                                       : tr("Still needed: %1").arg(readable(missing.join(tr(", ")))));
    // Only what a trial has seen is taken.
    const bool clean = trial_ && trial_->trouble.isEmpty() &&
                       (trial_->faults.isEmpty() || (goodRowsOnly() && trial_->added + trial_->changed > 0));
    import_->setEnabled(ready && clean && trial_->rows > 0);
}

} // namespace milehold::ui
