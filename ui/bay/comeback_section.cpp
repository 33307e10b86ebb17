// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/bay/comeback_section.h"

#include "core/shop/comeback.h"
#include "ui/theme/theme.h"
#include "ui/widgets/card.h"
#include "ui/widgets/date_field.h"
#include "ui/widgets/decimal_field.h"
#include "ui/widgets/form_grid.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QVBoxLayout>

#include <algorithm>

namespace milehold::ui {

ComebackSection::ComebackSection(QWidget* parent)
    : JobSection(parent), card_(new Card(tr("Did the earlier repair hold?"), this)),
      question_(new QLabel(card_)), answers_(new QWidget(card_)), grid_(new FormGrid(4, card_)),
      earlier_(new RecordBox<core::JobId>(tr("None"))), decision_(makeEnumBox<core::ComebackDecision>(this)),
      decidedBy_(new RecordBox<core::StaffId>(tr("Choose"))), reason_(new QLineEdit),
      payer_(makeEnumBox<core::Payer>(this)), cost_(new MoneyField), claim_(new QLineEdit),
      deadline_(new DateField) {
    auto* stack = new QVBoxLayout(this);
    stack->setContentsMargins(0, 0, 0, 0);
    stack->addWidget(card_);
    question_->setWordWrap(true);
    question_->setObjectName(QStringLiteral("comebackQuestion"));
    auto* row = new QHBoxLayout(answers_);
    row->setContentsMargins(0, 0, 0, 0);
    row->setSpacing(kGrid);
    row->addWidget(question_, 1);
    const std::pair<QString, core::ComebackDecision> answers[] = {
        {tr("It came back"), core::ComebackDecision::SameConcern},
        {tr("Not reproduced yet"), core::ComebackDecision::NotReproduced},
        {tr("Not a comeback"), core::ComebackDecision::Unrelated}};
    for (const auto& [label, decision] : answers) {
        auto* button = new QPushButton(label, answers_);
        theme::setLarge(button);
        row->addWidget(button);
        connect(button, &QPushButton::clicked, this, [this, decision = decision] { decide(decision); });
    }
    card_->body()->addWidget(answers_);

    setGrid(grid_);
    grid_->addField(tr("Earlier repair"), earlier_, QStringLiteral("comebackOf"), 2);
    grid_->addField(tr("What was decided"), decision_, QStringLiteral("comebackDecision"));
    grid_->addField(tr("Decided by"), decidedBy_, QStringLiteral("decidedBy"));
    grid_->addField(tr("Cause, or why it is not a comeback"), reason_, QStringLiteral("comebackCause"), 2);
    grid_->addField(tr("Who pays"), payer_, QStringLiteral("payer"));
    grid_->addField(tr("What it costs the shop"), cost_, QStringLiteral("comebackCost"));
    grid_->addField(tr("Claim number"), claim_, QStringLiteral("claimNumber"), 2);
    grid_->addField(tr("Claim by"), deadline_, QStringLiteral("claimDeadline"));
    card_->body()->addWidget(grid_);

    const auto changed = [this] {
        updateParts();
        emit edited();
    };
    for (QComboBox* box :
         {static_cast<QComboBox*>(earlier_), decision_, static_cast<QComboBox*>(decidedBy_), payer_})
        connect(box, &QComboBox::activated, this, changed);
    for (auto* field : {reason_, claim_})
        connect(field, &QLineEdit::textEdited, this, &JobSection::edited);
    connect(cost_, &DecimalField::edited, this, &JobSection::edited);
    connect(deadline_, &DateField::edited, this, &JobSection::edited);
    updateParts();
}

void ComebackSection::setContext(const BayContext& context) {
    context_ = context;
    cost_->setCurrency(toText(context.settings.currency));
    deadline_->setToday(context.today);
    std::vector<RecordBox<core::StaffId>::Choice> people;
    for (const auto& person : context.staff)
        people.push_back({person.id, toText(person.name), person.active});
    decidedBy_->setChoices(std::move(people));
    fillEarlier();
}

void ComebackSection::setPast(const core::VehicleHistory& past) {
    past_ = past;
    fillEarlier();
}

QString ComebackSection::describe(core::JobId id) const {
    const auto job = std::find_if(past_.jobs.begin(), past_.jobs.end(),
                                  [id](const core::Job& candidate) { return candidate.id == id; });
    if (job == past_.jobs.end())
        return {};
    const core::RepairPath* path = job->path ? context_.shelf->find(*job->path) : nullptr;
    return tr("Job %1, %2, %3")
        .arg(job->number)
        .arg(dateText(job->delivered.value_or(job->writtenUp)), path ? toText(path->name) : word(job->kind));
}

void ComebackSection::fillEarlier() {
    std::vector<RecordBox<core::JobId>::Choice> choices;
    for (const auto& job : past_.jobs)
        if (job.id != job_.id && job.isDelivered() && !job.isVoid() && job.kind != core::JobKind::Visit)
            choices.push_back({job.id, describe(job.id)});
    earlier_->setChoices(std::move(choices));
}

void ComebackSection::showJob(const core::Job& job) {
    job_ = job;
    fillEarlier();
    earlier_->setId(job.comebackOf);
    showIn(decision_, job.comebackDecision);
    decidedBy_->setId(job.decidedBy);
    reason_->setText(toText(job.comebackCause));
    showIn(payer_, job.payer);
    cost_->setMoney(job.comebackCost == core::Money{} ? std::nullopt : std::optional(job.comebackCost));
    claim_->setText(toText(job.claimNumber));
    deadline_->setDate(job.claimDeadline);
    propose(job);
}

void ComebackSection::readInto(core::Job& job) const {
    job.comebackOf = earlier_->id();
    job.comebackDecision = valueIn<core::ComebackDecision>(decision_);
    job.decidedBy = decidedBy_->id();
    job.comebackCause = toUtf8(reason_->text().trimmed());
    job.payer = valueIn<core::Payer>(payer_);
    job.comebackCost = cost_->money().value_or(core::Money{});
    job.claimNumber = toUtf8(claim_->text().trimmed());
    job.claimDeadline = deadline_->date();
}

void ComebackSection::propose(const core::Job& job) {
    job_ = job;
    proposed_ = job.kind == core::JobKind::Elsewhere ? std::nullopt : core::proposeComebackOf(job, past_);
    updateParts();
}

bool ComebackSection::isAsking() const {
    return proposed_ && !earlier_->id() &&
           valueIn<core::ComebackDecision>(decision_) == core::ComebackDecision::None;
}

void ComebackSection::updateParts() {
    const bool asking = isAsking();
    const auto decision = valueIn<core::ComebackDecision>(decision_);
    const bool decided = earlier_->id() || decision != core::ComebackDecision::None;
    setVisible(asking || decided);
    card_->setEdge(asking ? Card::Edge::NeedsYou : Card::Edge::Plain);
    card_->setTitle(asking                                          ? QString()
                    : decision == core::ComebackDecision::Unrelated ? tr("Not a comeback")
                                                                    : tr("Did the earlier repair hold?"));
    answers_->setVisible(asking);
    grid_->setVisible(decided);
    if (asking)
        question_->setText(
            tr("The same concern was repaired before: %1. Did that repair hold?").arg(describe(*proposed_)));
    // Who pays and the supplier's claim matter only where a repair did not hold.
    const bool costs = core::countsAsComeback(decision) || cost_->money() || !claim_->text().isEmpty() ||
                       deadline_->date() || valueIn<core::Payer>(payer_) != core::Payer::Unknown;
    for (QWidget* field : {static_cast<QWidget*>(payer_), static_cast<QWidget*>(cost_),
                           static_cast<QWidget*>(claim_), static_cast<QWidget*>(deadline_)})
        field->parentWidget()->setVisible(costs);
}

void ComebackSection::decide(core::ComebackDecision decision) {
    earlier_->setId(proposed_);
    showIn(decision_, decision);
    if (!decidedBy_->id())
        decidedBy_->setId(context_.who);
    updateParts();
    if (decision == core::ComebackDecision::NotReproduced)
        decision_->setFocus();
    else
        reason_->setFocus();
    emit edited();
}

} // namespace milehold::ui
