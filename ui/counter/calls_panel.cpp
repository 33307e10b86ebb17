// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/counter/calls_panel.h"

#include "ui/counter/call_card.h"
#include "ui/counter/call_row.h"
#include "ui/counter/call_words.h"
#include "ui/theme/icons.h"
#include "ui/theme/theme.h"
#include "ui/widgets/card.h"
#include "ui/widgets/text.h"
#include "ui/words/amounts.h"
#include "ui/words/labelled.h"

#include <QComboBox>
#include <QHBoxLayout>
#include <QKeyEvent>
#include <QLabel>
#include <QListWidget>
#include <QPushButton>
#include <QScrollArea>
#include <QSignalBlocker>
#include <QStackedWidget>
#include <QVBoxLayout>

#include <algorithm>

namespace milehold::ui {

namespace {

constexpr int kRankingMs = 3000; // as long as nobody has begun to read the call that came up

QComboBox* choiceOf(const QStringList& names, const QString& objectName, QWidget* parent) {
    auto* box = modestCombo(objectName, 18, parent);
    box->addItems(names);
    return box;
}

QHBoxLayout* beside(const QString& label, QComboBox* box, QWidget* parent) {
    auto* name = new QLabel(label, parent);
    theme::setText(name, TextRole::Small, true);
    name->setBuddy(box);
    auto* row = new QHBoxLayout;
    row->setSpacing(kHalf);
    row->addWidget(name);
    row->addWidget(box);
    return row;
}

} // namespace

CallsPanel::CallsPanel(QWidget* parent) : QWidget(parent) {
    QWidget* bar = makeBar();
    count_ = wrappingLabel(this);
    theme::setText(count_, TextRole::Small, true);
    list_ = new QListWidget(this);
    list_->setObjectName(QStringLiteral("calls"));
    list_->setAccessibleName(tr("Calls to make"));
    list_->setItemDelegate(new CallRow(list_));
    list_->setUniformItemSizes(true);
    list_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    list_->installEventFilter(this);

    auto* left = new QVBoxLayout;
    left->setSpacing(kGrid);
    left->addWidget(list_, 1);
    left->addWidget(count_);
    pages_ = new QStackedWidget(this);
    card_ = new CallCard(this);
    // Where long names need more than there is, the card scrolls: no button is pressed flat by them.
    auto* scroll = new QScrollArea(this);
    scroll->setWidget(card_);
    scroll->setWidgetResizable(true);
    scroll->setFrameShape(QFrame::NoFrame);
    scroll->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    scroll->setFocusPolicy(Qt::NoFocus);
    pages_->addWidget(scroll);
    empty_ = new EmptyState(QStringLiteral("phone"), QString(), QString(), this);
    pages_->addWidget(empty_);
    auto* row = new QHBoxLayout;
    row->setSpacing(kGap);
    row->addLayout(left, 9);
    row->addWidget(pages_, 11);
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(kGrid);
    column->addWidget(bar);
    column->addLayout(row, 1);

    // Whoever goes to a call, types into it or answers it keeps it, however the list is ranked.
    const auto stay = [this] { fromTop_ = QDeadlineTimer(); };
    connect(list_, &QListWidget::currentRowChanged, this, stay);
    connect(card_, &CallCard::answered, this, stay);
    connect(card_, &CallCard::edited, this, stay);
    connect(list_, &QListWidget::currentRowChanged, this, &CallsPanel::showCall);
    connect(card_, &CallCard::answered, this, &CallsPanel::answered);
    connect(card_, &CallCard::left, this, &CallsPanel::focusList);
    connect(card_, &CallCard::jobWanted, this, &CallsPanel::jobWanted);
    connect(card_, &CallCard::vehicleWanted, this, &CallsPanel::vehicleWanted);
    connect(card_, &CallCard::edited, this, [this] {
        if (currentCall() >= 0)
            emit typedInto(calls_[static_cast<std::size_t>(currentCall())].call.job);
    });
    setCalls({}, 0);
}

QWidget* CallsPanel::makeBar() {
    auto* bar = new QWidget(this);
    show_ = choiceOf(showNames(), QStringLiteral("callShow"), bar);
    order_ = choiceOf(orderNames(), QStringLiteral("callOrder"), bar);
    sheet_ = new QPushButton(tr("Call s&heet \u2026"), bar);
    sheet_->setObjectName(QStringLiteral("callSheet"));
    sheet_->setIcon(icon(QStringLiteral("print")));
    sheet_->setToolTip(tr("The calls listed here, to print and fill in by hand"));
    calendar_ = new QPushButton(tr("&Calendar file \u2026"), bar);
    calendar_->setObjectName(QStringLiteral("callCalendar"));
    calendar_->setIcon(icon(QStringLiteral("calendar")));
    calendar_->setToolTip(tr("The calls listed here as a calendar file (.ics): ten a working day"));
    answers_ = new QPushButton(tr("&Undo an answer \u2026"), bar);
    answers_->setObjectName(QStringLiteral("callAnswers"));
    answers_->setIcon(icon(QStringLiteral("undo")));
    answers_->setToolTip(
        tr("What was logged, newest first: one that was logged by mistake is voided with a reason"));
    for (QPushButton* button : {sheet_, calendar_, answers_})
        theme::setRole(button, ButtonRole::Quiet);
    auto* row = new QHBoxLayout(bar);
    row->setContentsMargins(0, 0, 0, 0);
    row->setSpacing(kGap);
    row->addLayout(beside(tr("Sho&w"), show_, bar));
    row->addLayout(beside(tr("Ord&er"), order_, bar));
    row->addStretch();
    row->addWidget(answers_);
    row->addWidget(calendar_);
    row->addWidget(sheet_);
    for (QComboBox* box : {show_, order_})
        connect(box, &QComboBox::activated, this, [this] { emit viewWanted(view()); });
    connect(sheet_, &QPushButton::clicked, this, &CallsPanel::sheetWanted);
    connect(calendar_, &QPushButton::clicked, this, &CallsPanel::calendarWanted);
    connect(answers_, &QPushButton::clicked, this, &CallsPanel::answersWanted);
    return bar;
}

core::CallView CallsPanel::view() const {
    return {static_cast<core::CallView::Show>(show_->currentIndex()),
            static_cast<core::CallView::Order>(order_->currentIndex())};
}

void CallsPanel::setUnit(core::DistanceUnit unit) {
    unit_ = unit;
    card_->setUnit(unit);
}

void CallsPanel::setToday(core::Date today) {
    card_->setToday(today);
}

int CallsPanel::currentCall() const {
    const int row = list_->currentRow();
    return row < static_cast<int>(calls_.size()) ? row : -1;
}

CallTyped CallsPanel::typed() const {
    return card_->typed();
}

void CallsPanel::focusList() {
    list_->setFocus(Qt::OtherFocusReason);
}

void CallsPanel::answerKept(core::JobId job) {
    card_->forget();
    fromTop_ = QDeadlineTimer(kRankingMs);
    std::vector<CallToMake> left = calls_;
    std::erase_if(left, [job](const CallToMake& call) { return call.call.job == job; });
    const std::size_t gone = calls_.size() - left.size();
    setCalls(std::move(left), all_ - std::min(all_, gone));
}

void CallsPanel::answerDoubted(core::FollowUpOutcome outcome, const QString& doubt) {
    card_->askAgain(outcome, doubt);
}

void CallsPanel::answerFailed() {
    card_->setSending(false);
}

void CallsPanel::setCalls(std::vector<CallToMake> calls, std::size_t all) {
    // The same call stays under the cursor; after an answer the first of the list, which is ranked anew.
    const int before = currentCall();
    const auto job =
        before >= 0 ? std::optional(calls_[static_cast<std::size_t>(before)].call.job) : std::nullopt;
    calls_ = std::move(calls);
    all_ = all;
    {
        const QSignalBlocker blocked(list_);
        fillList();
        int row = std::clamp(before, 0, std::max(0, static_cast<int>(calls_.size()) - 1));
        for (std::size_t i = 0; i < calls_.size(); ++i)
            if (job && calls_[i].call.job == *job)
                row = static_cast<int>(i);
        if (!fromTop_.hasExpired())
            row = 0;
        if (!calls_.empty())
            list_->setCurrentRow(row);
    }
    count_->setText(all > calls_.size() ? tr("The first %1 of %2.")
                                              .arg(countText(static_cast<double>(calls_.size())),
                                                   countText(static_cast<double>(all)))
                                        : QString());
    count_->setVisible(!count_->text().isEmpty());
    const bool every = view().show == core::CallView::Show::All;
    empty_->setTexts(
        every ? tr("Nobody to call") : tr("No such call"),
        every ? tr("A call is listed here when a repair holds as far as anybody knows, its customer has a "
                   "phone, and miles have been driven since that nobody has checked.")
              : tr("No call of this kind is to be made. \u201cAll calls\u201d shows the others."));
    pages_->setCurrentIndex(calls_.empty() ? 1 : 0);
    for (QPushButton* button : {sheet_, calendar_})
        button->setEnabled(!calls_.empty());
    showCall();
}

void CallsPanel::fillList() {
    list_->clear();
    for (const CallToMake& call : calls_) {
        auto* item = new QListWidgetItem(toText(call.customer), list_);
        QStringList detail{toText(call.vehicle)};
        if (!call.plate.empty())
            detail << toText(call.plate);
        if (!call.phones.empty())
            detail << toText(call.phones.front());
        item->setData(CallRow::Detail, detail.join(QStringLiteral(" \u00b7 ")));
        const QString reason = withLocalDates(toText(call.call.reason));
        item->setData(CallRow::Reason, reason);
        item->setData(CallRow::Due, dueWords(call.due, unit_));
        item->setData(CallRow::Warranty, call.call.warrantyOpen);
        item->setToolTip(reason);
        item->setData(Qt::AccessibleTextRole,
                      tr("%1, %2. %3").arg(toText(call.customer), detail.join(QStringLiteral(", ")), reason));
    }
}

void CallsPanel::showCall() {
    const int row = currentCall();
    if (row >= 0)
        card_->setCall(calls_[static_cast<std::size_t>(row)]);
}

bool CallsPanel::eventFilter(QObject* watched, QEvent* event) {
    if (event->type() != QEvent::KeyPress || watched != list_)
        return QWidget::eventFilter(watched, event);
    const auto* key = static_cast<QKeyEvent*>(event);
    if (key->key() == Qt::Key_Return || key->key() == Qt::Key_Enter) {
        fromTop_ = QDeadlineTimer();
        card_->focusAnswer();
        return true;
    }
    return (currentCall() >= 0 && card_->takeKey(*key)) || QWidget::eventFilter(watched, event);
}

} // namespace milehold::ui
