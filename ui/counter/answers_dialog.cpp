// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/counter/answers_dialog.h"

#include "ui/theme/icons.h"
#include "ui/theme/theme.h"
#include "ui/widgets/reason_row.h"
#include "ui/widgets/record_table.h"
#include "ui/widgets/roles.h"
#include "ui/widgets/text.h"
#include "ui/words/labelled.h"
#include "ui/words/labels.h"

#include <QHBoxLayout>
#include <QHeaderView>
#include <QLabel>
#include <QPushButton>
#include <QStandardItemModel>
#include <QVBoxLayout>

namespace milehold::ui {

namespace {

enum Column { Day, Customer, Vehicle, Answer, Note, By, ColumnCount };
constexpr int kWidths[] = {90, 150, 240, 220, 190, 120};

} // namespace

QString answerText(const core::FollowUp& told, core::DistanceUnit unit) {
    QStringList parts{word(told.outcome)};
    if (told.odometer)
        parts << (told.odometerEstimated
                      ? AnswersDialog::tr("about %1, estimated").arg(distanceText(*told.odometer, unit))
                      : AnswersDialog::tr("at %1").arg(distanceText(*told.odometer, unit)));
    if (told.noiseSince)
        parts << AnswersDialog::tr("since %1").arg(distanceText(*told.noiseSince, unit));
    if (told.callOn)
        parts << AnswersDialog::tr("on %1").arg(dateText(*told.callOn));
    return parts.join(QStringLiteral(", "));
}

AnswersDialog::AnswersDialog(core::DistanceUnit unit, QWidget* parent)
    : QDialog(parent), unit_(unit), table_(new RecordTable(this)), note_(wrappingLabel(this)),
      reason_(new ReasonRow(this)), void_(new QPushButton(this)),
      job_(new QPushButton(tr("Open the &job"), this)) {
    setWindowTitle(tr("Answers that were logged"));
    resize(1100, 560);
    table_->setObjectName(QStringLiteral("answers"));
    table_->setAccessibleName(tr("Answers, newest first"));
    table_->setEmptyText(tr("No answer was logged yet. Calls to make lists whom to ask."));
    table_->setWordWrap(false);
    theme::setText(note_, TextRole::Small, true);
    note_->setText(tr("A voided answer stays here with its reason and drops out of every figure."));
    void_->setObjectName(QStringLiteral("voidAnswer"));
    auto* close = new QPushButton(tr("&Close"), this);
    theme::setRole(close, ButtonRole::Quiet);
    for (QPushButton* button : {void_, job_, close})
        button->setAutoDefault(false);
    auto* buttons = new QHBoxLayout;
    buttons->setSpacing(kGrid);
    buttons->addWidget(void_);
    buttons->addWidget(job_);
    buttons->addStretch();
    buttons->addWidget(close);
    auto* stack = new QVBoxLayout(this);
    stack->setContentsMargins(kMargin, kMargin, kMargin, kMargin);
    stack->setSpacing(kGap);
    stack->addWidget(table_, 1);
    stack->addWidget(note_);
    stack->addWidget(reason_);
    stack->addLayout(buttons);
    connect(close, &QPushButton::clicked, this, &QDialog::reject);
    connect(table_, &RecordTable::currentChangedTo, this, &AnswersDialog::showChosen);
    const auto openJob = [this] {
        if (const LoggedAnswer* answer = chosen())
            emit jobWanted(answer->told.job);
    };
    connect(table_, &RecordTable::opened, this, openJob);
    connect(job_, &QPushButton::clicked, this, openJob);
    connect(void_, &QPushButton::clicked, this, &AnswersDialog::turn);
    connect(reason_, &ReasonRow::given, this, [this](const QString& reason) {
        if (const LoggedAnswer* answer = chosen())
            emit voidWanted(answer->told.id, answer->told.revision, reason);
    });
    connect(reason_, &ReasonRow::left, this, [this] { table_->setFocus(); });
    setAnswers({});
    table_->setFocus();
}

const LoggedAnswer* AnswersDialog::chosen() const {
    const int row = table_->currentRecord();
    return row < 0 || row >= static_cast<int>(answers_.size()) ? nullptr
                                                               : &answers_[static_cast<std::size_t>(row)];
}

void AnswersDialog::setAnswers(std::vector<LoggedAnswer> answers) {
    const auto before = chosen() ? std::optional(chosen()->told.id) : std::nullopt;
    answers_ = std::move(answers);
    auto* model = new QStandardItemModel(static_cast<int>(answers_.size()), ColumnCount, table_);
    model->setHorizontalHeaderLabels(
        {tr("Date"), tr("Customer"), tr("Vehicle"), tr("Answer"), tr("Note"), tr("Logged by")});
    int current = 0;
    for (int row = 0; row < model->rowCount(); ++row) {
        const LoggedAnswer& answer = answers_[static_cast<std::size_t>(row)];
        const core::FollowUp& told = answer.told;
        if (before && told.id == *before)
            current = row;
        const QString note = told.isVoid() ? tr("Void: %1").arg(toText(told.voidReason)) : toText(told.note);
        const QStringList cells{dateText(told.date),
                                toText(answer.customer),
                                tr("%1, job %2").arg(toText(answer.vehicle)).arg(answer.jobNumber),
                                answerText(told, unit_),
                                note,
                                toText(answer.by)};
        for (int column = 0; column < ColumnCount; ++column) {
            auto* item = new QStandardItem(cells[column]);
            item->setEditable(false);
            item->setToolTip(cells[column]);
            item->setData(told.isVoid(), kSoftRole);
            item->setData(column == Day ? QVariant(toQDate(told.date)) : QVariant(cells[column]), kSortRole);
            // Newest first among one day's: ties are broken by text.
            item->setData(
                QStringLiteral("%1").arg(static_cast<int>(answers_.size()) - row, 6, 10, QChar(u'0')),
                kIdRole);
            if (told.isVoid()) {
                QFont struck = item->font();
                struck.setStrikeOut(column == Answer);
                item->setFont(struck);
            }
            model->setItem(row, column, item);
        }
    }
    QAbstractItemModel* old = table_->records();
    table_->setRecords(model);
    if (old != nullptr)
        old->deleteLater();
    for (int column = 0; column < ColumnCount; ++column)
        table_->setColumnWidth(column, kWidths[column]);
    table_->horizontalHeader()->setStretchLastSection(true);
    table_->sortByColumn(Day, Qt::DescendingOrder);
    if (!answers_.empty())
        table_->setCurrentRecord(current);
    showChosen();
}

void AnswersDialog::showChosen() {
    reason_->leave();
    const LoggedAnswer* answer = chosen();
    void_->setEnabled(answer != nullptr);
    job_->setEnabled(answer != nullptr);
    void_->setText(answer && answer->told.isVoid() ? tr("Let it count &again")
                                                   : tr("&Void this answer \u2026"));
}

void AnswersDialog::turn() {
    const LoggedAnswer* answer = chosen();
    if (answer == nullptr)
        return;
    if (answer->told.isVoid())
        emit countAgainWanted(answer->told.id, answer->told.revision);
    else
        reason_->ask(tr("&Why does it not count?"), tr("Void &the answer"), tr("&Keep it"));
}

} // namespace milehold::ui
