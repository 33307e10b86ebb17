// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/counter/calls_panel.h"

#include "ui/theme/icons.h"
#include "ui/theme/paint.h"
#include "ui/widgets/card.h"
#include "ui/widgets/distance_field.h"
#include "ui/widgets/text.h"
#include "ui/words/amounts.h"
#include "ui/words/labelled.h"

#include <QCoreApplication>
#include <QGridLayout>
#include <QHBoxLayout>
#include <QKeyEvent>
#include <QKeySequence>
#include <QLabel>
#include <QLineEdit>
#include <QListWidget>
#include <QPushButton>
#include <QSignalBlocker>
#include <QStackedWidget>
#include <QStyledItemDelegate>
#include <QVBoxLayout>

#include <algorithm>
#include <array>

namespace milehold::ui {

namespace {

constexpr int kRow = 64;
constexpr int kDetailRole = Qt::UserRole + 1;
constexpr int kReasonRole = Qt::UserRole + 2;
constexpr int kWarrantyRole = Qt::UserRole + 3;

struct Outcome {
    core::FollowUpOutcome outcome;
    int key;
    const char* text;
    const char* icon;
};

constexpr std::array<Outcome, 8> kOutcomes = {{
    {core::FollowUpOutcome::Quiet, Qt::Key_Q, QT_TRANSLATE_NOOP("CallsPanel", "Still quiet"), "quiet"},
    {core::FollowUpOutcome::NoiseBack, Qt::Key_N, QT_TRANSLATE_NOOP("CallsPanel", "Noise is back"), "sound"},
    {core::FollowUpOutcome::NoAnswer, Qt::Key_A, QT_TRANSLATE_NOOP("CallsPanel", "No answer"), "phone"},
    {core::FollowUpOutcome::CallLater, Qt::Key_L, QT_TRANSLATE_NOOP("CallsPanel", "Call later"), "clock"},
    {core::FollowUpOutcome::Sold, Qt::Key_S, QT_TRANSLATE_NOOP("CallsPanel", "Sold"), "person"},
    {core::FollowUpOutcome::Scrapped, Qt::Key_X, QT_TRANSLATE_NOOP("CallsPanel", "Scrapped"), "close"},
    {core::FollowUpOutcome::RepairedElsewhere, Qt::Key_R,
     QT_TRANSLATE_NOOP("CallsPanel", "Repaired elsewhere"), "wrench"},
    {core::FollowUpOutcome::DoNotCall, Qt::Key_D, QT_TRANSLATE_NOOP("CallsPanel", "Do not call again"),
     "stop"},
}};

class CallDelegate : public QStyledItemDelegate {
public:
    using QStyledItemDelegate::QStyledItemDelegate;

    QSize sizeHint(const QStyleOptionViewItem&, const QModelIndex&) const override { return {200, kRow}; }

    void paint(QPainter* painter, const QStyleOptionViewItem& option,
               const QModelIndex& index) const override {
        const Tokens& tokens = theme::tokensOf(option.widget);
        QStyleOptionViewItem cell = option;
        initStyleOption(&cell, index);
        const paint::Scope scope(*painter);
        option.widget->style()->drawPrimitive(QStyle::PE_PanelItemViewItem, &cell, painter, option.widget);
        paint::hairline(*painter, option.rect.bottomLeft(), option.rect.bottomRight(), tokens.hairline);
        QRect text = option.rect.adjusted(kGap, 6, -kGrid, -6);
        if (index.data(kWarrantyRole).toBool()) {
            paintIcon(*painter, QRectF(text.right() - 17, text.top(), 18, 18), QStringLiteral("shield"),
                      tokens.amberText);
        }
        const auto line = [&](int top, const QFont& font, const QColor& ink, const QString& words,
                              int width) {
            painter->setFont(font);
            painter->setPen(ink);
            painter->drawText(QRect(text.left(), top, width, 18),
                              Qt::AlignLeft | Qt::AlignVCenter | Qt::TextSingleLine,
                              painter->fontMetrics().elidedText(words, Qt::ElideRight, width));
        };
        line(text.top(), theme::font(TextRole::Strong), tokens.ink, index.data().toString(),
             text.width() - 24);
        line(text.top() + 18, theme::font(TextRole::Small), tokens.ink, index.data(kDetailRole).toString(),
             text.width());
        line(text.top() + 35, theme::font(TextRole::Small), tokens.inkSoft,
             index.data(kReasonRole).toString(), text.width());
    }
};

QString outcomeText(const Outcome& outcome) {
    return QCoreApplication::translate("CallsPanel", outcome.text);
}

} // namespace

CallsPanel::CallsPanel(QWidget* parent) : QWidget(parent) {
    count_ = wrappingLabel(this);
    theme::setText(count_, TextRole::Small, true);
    list_ = new QListWidget(this);
    list_->setObjectName(QStringLiteral("calls"));
    list_->setAccessibleName(tr("Calls to make, the most worth a minute first"));
    list_->setItemDelegate(new CallDelegate(list_));
    list_->setUniformItemSizes(true);
    list_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    list_->installEventFilter(this);

    auto* left = new QVBoxLayout;
    left->setSpacing(kGrid);
    left->addWidget(list_, 1);
    left->addWidget(count_);
    pages_ = new QStackedWidget(this);
    pages_->addWidget(makeCard());
    pages_->addWidget(
        new EmptyState(QStringLiteral("phone"), tr("Nobody to call"),
                       tr("A call is listed here when a repair holds as far as anybody knows, its customer "
                          "has a phone, and miles have been driven since that nobody has checked."),
                       this));
    auto* row = new QHBoxLayout(this);
    row->setContentsMargins(0, 0, 0, 0);
    row->setSpacing(kGap);
    row->addLayout(left, 9);
    row->addWidget(pages_, 11);
    connect(list_, &QListWidget::currentRowChanged, this, &CallsPanel::showCall);
    setCalls({}, 0);
}

QWidget* CallsPanel::makeCard() {
    auto* card = new Card(QString(), this);
    who_ = wrappingLabel(card);
    theme::setText(who_, TextRole::Title);
    phone_ = wrappingLabel(card);
    phone_->setObjectName(QStringLiteral("phone"));
    phone_->setTextInteractionFlags(Qt::TextSelectableByMouse | Qt::TextSelectableByKeyboard);
    theme::setText(phone_, TextRole::Big);
    when_ = wrappingLabel(card);
    theme::setText(when_, TextRole::Small, true);
    question_ = wrappingLabel(card);
    question_->setText(
        tr("Ask: \u201cWhen you start it cold, after a night outside: do you hear any rattle, and what does "
           "the odometer show?\u201d"));
    theme::setText(question_, TextRole::Lead);
    facts_ = wrappingLabel(card);
    reason_ = wrappingLabel(card);
    theme::setText(reason_, TextRole::Small, true);
    odometer_ = new DistanceField(card);
    odometer_->setObjectName(QStringLiteral("callOdometer"));
    noiseSince_ = new DistanceField(card);
    noiseSince_->setObjectName(QStringLiteral("callNoiseSince"));
    estimate_ = wrappingLabel(card);
    theme::setText(estimate_, TextRole::Small, true);
    note_ = new QLineEdit(card);
    note_->setObjectName(QStringLiteral("callNote"));
    note_->setMaxLength(400);
    job_ = new QPushButton(tr("Open the &job"), card);
    theme::setRole(job_, ButtonRole::Quiet);
    for (QLineEdit* field :
         {static_cast<QLineEdit*>(odometer_), static_cast<QLineEdit*>(noiseSince_), note_}) {
        field->installEventFilter(this);
    }

    auto* fields = new QHBoxLayout;
    fields->setSpacing(kGrid + kHalf);
    fields->addLayout(labelled(tr("&Odometer told"), odometer_), 1);
    fields->addLayout(labelled(tr("Noise since &about"), noiseSince_), 1);
    fields->addLayout(labelled(tr("No&te"), note_), 2);
    auto* buttons = new QGridLayout;
    buttons->setSpacing(kGrid);
    int place = 0;
    for (const Outcome& outcome : kOutcomes) {
        const QString key = QKeySequence(outcome.key).toString();
        auto* button = new QPushButton(tr("%1   %2").arg(outcomeText(outcome), key), card);
        button->setObjectName(QStringLiteral("outcome") + key);
        button->setIcon(icon(QString::fromLatin1(outcome.icon)));
        button->setToolTip(tr("Logs: %1 (%2)").arg(outcomeText(outcome), key));
        button->installEventFilter(this);
        theme::setRole(button, outcome.outcome == core::FollowUpOutcome::Quiet ? ButtonRole::Primary
                                                                               : ButtonRole::Ordinary);
        connect(button, &QPushButton::clicked, this, [this, outcome] { log(outcome.outcome); });
        buttons->addWidget(button, place / 2, place % 2);
        ++place;
    }

    auto* column = card->body();
    column->setSpacing(kGrid);
    column->addWidget(who_);
    column->addWidget(phone_);
    column->addWidget(when_);
    column->addWidget(facts_);
    column->addWidget(question_);
    column->addStretch();
    column->addLayout(fields);
    column->addWidget(estimate_);
    column->addLayout(buttons);
    column->addStretch();
    column->addWidget(reason_);
    column->addWidget(job_, 0, Qt::AlignLeft);
    connect(job_, &QPushButton::clicked, this, [this] {
        if (currentCall() >= 0)
            emit jobWanted(calls_[static_cast<std::size_t>(currentCall())].call.job);
    });
    return card;
}

void CallsPanel::setUnit(core::DistanceUnit unit) {
    unit_ = unit;
    odometer_->setUnit(unit);
    noiseSince_->setUnit(unit);
    showCall();
}

int CallsPanel::currentCall() const {
    const int row = list_->currentRow();
    return row < static_cast<int>(calls_.size()) ? row : -1;
}

void CallsPanel::focusList() {
    list_->setFocus(Qt::OtherFocusReason);
}

void CallsPanel::setCalls(std::vector<CallToMake> calls, std::size_t all) {
    // The same call stays under the cursor; one that was just made leaves its place to the next one.
    const int before = currentCall();
    const auto job =
        before >= 0 ? std::optional(calls_[static_cast<std::size_t>(before)].call.job) : std::nullopt;
    calls_ = std::move(calls);
    const QSignalBlocker blocked(list_);
    list_->clear();
    int row = std::clamp(before, 0, std::max(0, static_cast<int>(calls_.size()) - 1));
    for (std::size_t i = 0; i < calls_.size(); ++i) {
        const CallToMake& call = calls_[i];
        auto* item = new QListWidgetItem(toText(call.customer), list_);
        QStringList detail{toText(call.vehicle)};
        if (!call.plate.empty())
            detail << toText(call.plate);
        if (!call.phones.empty())
            detail << toText(call.phones.front());
        item->setData(kDetailRole, detail.join(QStringLiteral(" \u00b7 ")));
        item->setData(kReasonRole, toText(call.call.reason));
        item->setData(kWarrantyRole, call.call.warrantyOpen);
        item->setToolTip(toText(call.call.reason));
        if (job && call.call.job == *job)
            row = static_cast<int>(i);
    }
    if (!calls_.empty())
        list_->setCurrentRow(row);
    count_->setText(all > calls_.size() ? tr("The %1 most worth a call, of %2.")
                                              .arg(countText(static_cast<double>(calls_.size())),
                                                   countText(static_cast<double>(all)))
                                        : QString());
    count_->setVisible(!count_->text().isEmpty());
    pages_->setCurrentIndex(calls_.empty() ? 1 : 0);
    showCall();
}

void CallsPanel::showCall() {
    const int row = currentCall();
    if (row < 0)
        return;
    const CallToMake& call = calls_[static_cast<std::size_t>(row)];
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
    facts_->setText(tr("%1. %2 on %3; last known quiet on %4, %5 after it.")
                        .arg(call.plate.empty() ? toText(call.vehicle)
                                                : tr("%1, %2").arg(toText(call.vehicle), toText(call.plate)),
                             call.path.empty() ? tr("Repaired") : toText(call.path),
                             dateText(call.repairedOn), dateText(call.lastKnownOn),
                             distanceText(call.known, unit_)));
    reason_->setText(tr("Why this call: %1").arg(toText(call.call.reason)));
    odometer_->setDistance(std::nullopt);
    noiseSince_->setDistance(std::nullopt);
    note_->clear();
    estimate_->setText(
        call.odometerNow
            ? tr("Should show about %1 by now. Left blank, \u201cstill quiet\u201d is logged there and "
                 "flagged as estimated.")
                  .arg(distanceText(*call.odometerNow, unit_))
            : tr("Nothing is known of its odometer: ask for it."));
}

void CallsPanel::log(core::FollowUpOutcome outcome) {
    const int row = currentCall();
    if (row < 0 || !odometer_->hasValidText() || !noiseSince_->hasValidText())
        return;
    const CallToMake& call = calls_[static_cast<std::size_t>(row)];
    CallAnswer answer;
    answer.job = call.call.job;
    answer.outcome = outcome;
    answer.odometer = odometer_->distance();
    answer.note = toUtf8(note_->text().trimmed());
    if (outcome == core::FollowUpOutcome::NoiseBack)
        answer.noiseSince = noiseSince_->distance();
    if (outcome == core::FollowUpOutcome::Quiet && !answer.odometer && call.odometerNow) {
        answer.odometer = call.odometerNow;
        answer.odometerEstimated = true;
    }
    emit answered(answer);
}

bool CallsPanel::eventFilter(QObject* watched, QEvent* event) {
    if (event->type() != QEvent::KeyPress)
        return QWidget::eventFilter(watched, event);
    const auto* key = static_cast<QKeyEvent*>(event);
    const bool plain = key->modifiers() == Qt::NoModifier || key->modifiers() == Qt::ShiftModifier;
    const bool enter = key->key() == Qt::Key_Return || key->key() == Qt::Key_Enter;
    if (qobject_cast<QLineEdit*>(watched)) {
        if (!enter)
            return QWidget::eventFilter(watched, event);
        focusList();
        return true;
    }
    if (watched == list_ && enter) {
        odometer_->setFocus(Qt::TabFocusReason);
        return true;
    }
    const auto found = std::find_if(kOutcomes.begin(), kOutcomes.end(),
                                    [&](const Outcome& outcome) { return outcome.key == key->key(); });
    if (!plain || found == kOutcomes.end())
        return QWidget::eventFilter(watched, event);
    log(found->outcome);
    return true;
}

} // namespace milehold::ui
