// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/counter/call_card.h"

#include "ui/counter/call_words.h"
#include "ui/theme/icons.h"
#include "ui/theme/theme.h"
#include "ui/widgets/card.h"
#include "ui/widgets/date_field.h"
#include "ui/widgets/distance_field.h"
#include "ui/widgets/text.h"
#include "ui/words/amounts.h"
#include "ui/words/labelled.h"

#include <QGridLayout>
#include <QHBoxLayout>
#include <QKeyEvent>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QStackedWidget>
#include <QVBoxLayout>

#include <algorithm>

namespace milehold::ui {

namespace {
constexpr int kDaysLater = 7; // unless another day is typed
constexpr int kDateWidth = 132;
constexpr int kLowestButton = 28;
} // namespace

CallCard::CallCard(QWidget* parent)
    : QWidget(parent), who_(wrappingLabel(this)), phone_(wrappingLabel(this)), when_(wrappingLabel(this)),
      question_(wrappingLabel(this)), facts_(wrappingLabel(this)), reason_(wrappingLabel(this)),
      estimate_(wrappingLabel(this)), under_(new QStackedWidget(this)), callOn_(new DateField(this)),
      whenSaid_(wrappingLabel(this)), logWhen_(new QPushButton(this)), odometer_(new DistanceField(this)),
      noiseSince_(new DistanceField(this)), note_(new QLineEdit(this)) {
    makeFields();
    layOut();
}

void CallCard::makeFields() {
    theme::setText(who_, TextRole::Title);
    phone_->setObjectName(QStringLiteral("phone"));
    phone_->setTextInteractionFlags(Qt::TextSelectableByMouse | Qt::TextSelectableByKeyboard);
    theme::setText(phone_, TextRole::Big);
    theme::setText(when_, TextRole::Small, true);
    theme::setText(question_, TextRole::Lead);
    reason_->setObjectName(QStringLiteral("callReason"));
    theme::setText(reason_, TextRole::Small, true);
    theme::setText(estimate_, TextRole::Small, true);
    odometer_->setObjectName(QStringLiteral("callOdometer"));
    noiseSince_->setObjectName(QStringLiteral("callNoiseSince"));
    note_->setObjectName(QStringLiteral("callNote"));
    note_->setMaxLength(400);
    callOn_->setObjectName(QStringLiteral("callOn"));
    callOn_->installEventFilter(this);
    connect(callOn_, &QLineEdit::textChanged, this, &CallCard::showWhen);
    connect(callOn_, &DateField::edited, this, &CallCard::edited);
    for (QLineEdit* field :
         {static_cast<QLineEdit*>(odometer_), static_cast<QLineEdit*>(noiseSince_), note_}) {
        field->installEventFilter(this);
        connect(field, &QLineEdit::textEdited, this, &CallCard::edited);
        connect(field, &QLineEdit::textEdited, this, [this] { doubted_.reset(); });
    }
}

void CallCard::layOut() {
    auto* card = new Card(QString(), this);
    auto* fields = new QHBoxLayout;
    fields->setSpacing(kGrid + kHalf);
    fields->addLayout(labelled(tr("&Odometer told"), odometer_), 1);
    fields->addLayout(labelled(tr("Noise since a&bout"), noiseSince_), 1);
    fields->addLayout(labelled(tr("No&te"), note_), 2);
    auto* buttons = new QGridLayout;
    buttons->setSpacing(kGrid);
    int place = 0;
    for (const CallOutcome& outcome : callOutcomes()) {
        auto* button = new QPushButton(tr("%1   &%2").arg(outcome.name(), outcome.letter()), card);
        button->setObjectName(QStringLiteral("outcome") + outcome.letter());
        button->setIcon(icon(QString::fromLatin1(outcome.icon)));
        button->setToolTip(tr("Logs: %1 (%2)").arg(outcome.name(), outcome.letter()));
        button->installEventFilter(this);
        button->setMinimumHeight(kLowestButton);
        theme::setRole(button, outcome.outcome == core::FollowUpOutcome::Quiet ? ButtonRole::Primary
                                                                               : ButtonRole::Ordinary);
        connect(button, &QPushButton::clicked, this, [this, told = outcome.outcome] { log(told); });
        buttons->addWidget(button, place / 2, place % 2);
        ++place;
    }
    auto* job = new QPushButton(tr("Open the &job"), card);
    job->setObjectName(QStringLiteral("callJob"));
    auto* vehicle = new QPushButton(tr("&Vehicle's page"), card);
    vehicle->setObjectName(QStringLiteral("callVehicle"));
    auto* ways = new QHBoxLayout;
    ways->setSpacing(kHalf);
    for (QPushButton* way : {job, vehicle}) {
        theme::setRole(way, ButtonRole::Quiet);
        way->installEventFilter(this);
        ways->addWidget(way);
    }
    ways->addStretch();
    connect(job, &QPushButton::clicked, this, [this] { emit jobWanted(call_.call.job); });
    connect(vehicle, &QPushButton::clicked, this, [this] { emit vehicleWanted(call_.call.vehicle); });

    auto* column = card->body();
    column->setSpacing(kGrid);
    for (QLabel* line : {who_, phone_, when_, facts_, question_})
        column->addWidget(line);
    column->addStretch();
    column->addLayout(fields);
    under_->addWidget(estimate_);
    under_->addWidget(makeLater());
    column->addWidget(under_);
    column->addLayout(buttons);
    column->addStretch();
    column->addWidget(reason_);
    column->addLayout(ways);
    auto* whole = new QVBoxLayout(this);
    whole->setContentsMargins(0, 0, 0, 0);
    whole->addWidget(card);
}

QWidget* CallCard::makeLater() {
    auto* box = new QWidget(under_);
    auto* name = new QLabel(tr("Call aga&in on"), box);
    name->setBuddy(callOn_);
    callOn_->setFixedWidth(kDateWidth);
    theme::setRole(logWhen_, ButtonRole::Primary);
    logWhen_->setObjectName(QStringLiteral("logWhen"));
    theme::setText(whenSaid_, TextRole::Small, true);
    auto* row = new QHBoxLayout;
    row->setSpacing(kGrid);
    row->addWidget(name);
    row->addWidget(callOn_);
    row->addWidget(logWhen_);
    row->addStretch();
    auto* column = new QVBoxLayout(box);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(kHalf);
    column->addLayout(row);
    column->addWidget(whenSaid_);
    connect(logWhen_, &QPushButton::clicked, this, &CallCard::logLater);
    return box;
}

void CallCard::setToday(core::Date today) {
    today_ = today;
    callOn_->setToday(today);
}

bool CallCard::isAskingWhen() const {
    return under_->currentIndex() == 1;
}

void CallCard::askWhen(std::optional<core::Date> day) {
    under_->setCurrentIndex(1);
    callOn_->setDate(day);
    showWhen();
}

void CallCard::leaveWhen() {
    under_->setCurrentIndex(0);
    callOn_->setDate(std::nullopt);
}

void CallCard::showWhen() {
    const auto day = callOn_->date();
    const bool ahead = day && *day > today_;
    logWhen_->setEnabled(ahead);
    logWhen_->setText(ahead ? tr("Lo&g: call on %1").arg(dateText(*day)) : tr("Lo&g: call later"));
    whenSaid_->setText(ahead || callOn_->text().trimmed().isEmpty()
                           ? tr("Enter logs it, Escape leaves it. +10 is ten days from today.")
                       : day ? tr("%1 is not after today.").arg(dateText(*day))
                             : tr("\u201c%1\u201d is no date: type one such as %2, or +10.")
                                   .arg(callOn_->text(), dateText(core::addDays(today_, kDaysLater))));
}

void CallCard::logLater() {
    showWhen();
    if (sending_ || call_.call.job.isNull() || !distancesAreRead())
        return;
    if (!logWhen_->isEnabled())
        return callOn_->setFocus(Qt::OtherFocusReason);
    CallAnswer answer;
    answer.outcome = core::FollowUpOutcome::CallLater;
    answer.odometer = odometer_->distance();
    answer.callOn = callOn_->date();
    send(std::move(answer));
    emit left(); // the next letter is for the next call, not for a field that goes
}

void CallCard::setUnit(core::DistanceUnit unit) {
    unit_ = unit;
    odometer_->setUnit(unit);
    noiseSince_->setUnit(unit);
    showTexts();
}

void CallCard::setCall(const CallToMake& call) {
    const bool another = call.call.job != call_.call.job;
    call_ = call;
    showTexts();
    if (another)
        show(call.typed);
}

CallTyped CallCard::typed() const {
    return {odometer_->distance(), noiseSince_->distance(), toUtf8(note_->text().trimmed()),
            isAskingWhen() ? callOn_->date() : std::nullopt};
}

void CallCard::show(const CallTyped& typed) {
    odometer_->setDistance(typed.odometer);
    noiseSince_->setDistance(typed.noiseSince);
    note_->setText(toText(typed.note));
    doubted_.reset();
    if (typed.callOn)
        askWhen(typed.callOn);
    else
        leaveWhen();
}

void CallCard::forget() {
    show({});
    call_.typed = {};
    setSending(false);
}

void CallCard::setSending(bool sending) {
    sending_ = sending;
}

void CallCard::askAgain(core::FollowUpOutcome outcome, const QString& doubt) {
    setSending(false);
    doubted_ = outcome;
    leaveWhen();
    estimate_->setText(tr("Not logged yet: %1 If it is right, press %2 once more.")
                           .arg(doubt, callOutcome(outcome).letter()));
}

void CallCard::focusAnswer() {
    odometer_->setFocus(Qt::TabFocusReason);
}

void CallCard::showTexts() {
    const CallToMake& call = call_;
    who_->setText(toText(call.customer));
    QStringList phones;
    for (const std::string& phone : call.phones)
        phones << toText(phone);
    phone_->setText(phones.isEmpty() ? tr("no phone") : phones.first());
    QStringList when;
    if (!call.bestTime.empty())
        when << tr("Best time: %1").arg(toText(call.bestTime));
    if (phones.size() > 1)
        when << tr("Or: %1").arg(phones.mid(1).join(QStringLiteral(", ")));
    if (!call.customerNote.empty())
        when << toText(call.customerNote);
    when_->setText(when.join(QStringLiteral(" \u00b7 ")));
    when_->setVisible(!when.isEmpty());
    const QString vehicle = call.plate.empty() ? toText(call.vehicle)
                                               : tr("%1, %2").arg(toText(call.vehicle), toText(call.plate));
    const QString work = call.path.empty() ? tr("Repaired") : toText(call.path);
    const bool isUnheard = call.known == core::Distance() && call.lastKnownOn == call.repairedOn;
    QString facts =
        isUnheard
            ? tr("%1. %2 on %3; nothing is known of it since.").arg(vehicle, work, dateText(call.repairedOn))
            : tr("%1. %2 on %3; last known quiet on %4, %5 after it.")
                  .arg(vehicle, work, dateText(call.repairedOn), dateText(call.lastKnownOn),
                       distanceText(call.known, unit_));
    if (!call.also.empty()) {
        QStringList also;
        for (const std::string& one : call.also)
            also << toText(one);
        facts += QChar(u' ') +
                 tr("The same person is also on the list for: %1.").arg(also.join(QStringLiteral("; ")));
    }
    facts_->setText(facts);
    question_->setText(tr("Ask: \u201c%1\u201d").arg(callQuestion(call.concern)));
    QStringList due;
    for (const core::CallDue& mark : call.due)
        due << tr("%1 since %2").arg(dueWord(mark, unit_), dateText(mark.on));
    QString reason = tr("Why this call: %1").arg(withLocalDates(toText(call.call.reason)));
    if (!due.isEmpty())
        reason += QChar(u' ') + tr("Due: %1.").arg(due.join(QStringLiteral(", ")));
    reason_->setText(reason);
    estimate_->setText(call.odometerNow ? tr("Should show about %1 by now. Left blank, \u201cstill "
                                             "quiet\u201d keeps that as an estimate: "
                                             "news, but no known %2.")
                                              .arg(estimateText(*call.odometerNow, unit_), unitWord(unit_))
                                        : tr("Nothing is known of its odometer: ask for it."));
}

void CallCard::complain(const QString& what, QLineEdit* field) {
    leaveWhen();
    estimate_->setText(what);
    field->setFocus(Qt::OtherFocusReason);
}

bool CallCard::distancesAreRead() {
    for (DistanceField* field : {odometer_, noiseSince_}) {
        if (field->hasValidText())
            continue;
        complain(
            tr("Not logged: \u201c%1\u201d is no distance in whole %2.").arg(field->text(), unitWord(unit_)),
            field);
        return false;
    }
    return true;
}

void CallCard::log(core::FollowUpOutcome outcome) {
    if (sending_ || call_.call.job.isNull() || !distancesAreRead())
        return;
    if (noiseSince_->distance() && outcome != core::FollowUpOutcome::NoiseBack)
        return complain(
            tr("Not logged: \u201cnoise since\u201d is filled in, which goes with N, noise is back. Clear it "
               "for another answer."),
            noiseSince_);
    if (outcome == core::FollowUpOutcome::CallLater) {
        if (!isAskingWhen())
            askWhen(core::addDays(today_, kDaysLater));
        callOn_->setFocus(Qt::TabFocusReason); // all of it is chosen: a date replaces it
        return;
    }
    CallAnswer answer;
    answer.outcome = outcome;
    answer.odometer = odometer_->distance();
    if (outcome == core::FollowUpOutcome::NoiseBack)
        answer.noiseSince = noiseSince_->distance();
    if (outcome == core::FollowUpOutcome::Quiet && !answer.odometer && call_.odometerNow) {
        answer.odometer = call_.odometerNow;
        answer.odometerEstimated = true;
    }
    send(std::move(answer));
}

void CallCard::send(CallAnswer answer) {
    answer.job = call_.call.job;
    answer.isSure = doubted_ == answer.outcome;
    answer.note = toUtf8(note_->text().trimmed());
    setSending(true);
    emit answered(answer);
}

bool CallCard::takeKey(const QKeyEvent& key) {
    const bool plain = key.modifiers() == Qt::NoModifier || key.modifiers() == Qt::ShiftModifier;
    const auto& outcomes = callOutcomes();
    const auto found = std::find_if(outcomes.begin(), outcomes.end(),
                                    [&](const CallOutcome& outcome) { return outcome.key == key.key(); });
    if (!plain || found == outcomes.end())
        return false;
    if (!key.isAutoRepeat())
        log(found->outcome);
    return true;
}

bool CallCard::eventFilter(QObject* watched, QEvent* event) {
    if (event->type() != QEvent::KeyPress)
        return QWidget::eventFilter(watched, event);
    const auto* key = static_cast<QKeyEvent*>(event);
    const bool isEnter = key->key() == Qt::Key_Return || key->key() == Qt::Key_Enter;
    if (watched == callOn_) {
        if (isEnter) {
            logLater();
        } else if (key->key() == Qt::Key_Escape) {
            leaveWhen();
            emit edited();
            emit left();
        } else {
            return QWidget::eventFilter(watched, event);
        }
        return true;
    }
    if (qobject_cast<QLineEdit*>(watched)) {
        if (!isEnter)
            return QWidget::eventFilter(watched, event);
        emit left();
        return true;
    }
    return takeKey(*key) || QWidget::eventFilter(watched, event);
}

} // namespace milehold::ui
