// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/bay/comeback_section.h"

#include "core/shop/comeback.h"
#include "ui/theme/theme.h"
#include "ui/widgets/card.h"
#include "ui/widgets/date_field.h"
#include "ui/widgets/decimal_field.h"
#include "ui/widgets/form_grid.h"

#include <QCoreApplication>
#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QVBoxLayout>

#include <algorithm>

namespace milehold::ui {

namespace {

struct Words {
    Q_DECLARE_TR_FUNCTIONS(ComebackSection)
};

/// What a decision does to the life of the earlier repair.
QString effectOf(core::ComebackDecision decision) {
    switch (decision) {
    case core::ComebackDecision::None:
        return Words::tr("Until somebody decides, a linked job counts as a comeback.");
    case core::ComebackDecision::NotReproduced:
        return Words::tr("Stays open: nothing is counted, and known quiet does not move.");
    case core::ComebackDecision::Unrelated:
        return Words::tr("The earlier repair held: it is known quiet up to this visit.");
    case core::ComebackDecision::SameConcern:
    case core::ComebackDecision::OtherPart:
    case core::ComebackDecision::Workmanship:
    case core::ComebackDecision::WrongDiagnosis:
        break;
    }
    return Words::tr("The earlier repair did not hold: its life ends here as a comeback.");
}

/// The kinds of cost in the order of the form; what was credited comes last and lessens the others.
using Kind = core::Money core::ComebackCosts::*;
constexpr std::array<std::pair<Kind, const char*>, 6> kCostKinds = {
    {{&core::ComebackCosts::labour, "comebackCosts.labour"},
     {&core::ComebackCosts::parts, "comebackCosts.parts"},
     {&core::ComebackCosts::rental, "comebackCosts.rental"},
     {&core::ComebackCosts::towing, "comebackCosts.towing"},
     {&core::ComebackCosts::goodwill, "comebackCosts.goodwill"},
     {&core::ComebackCosts::credit, "comebackCosts.credit"}}};

std::optional<core::Money> shown(core::Money amount) {
    return amount == core::Money{} ? std::nullopt : std::optional(amount);
}

} // namespace

ComebackSection::ComebackSection(QWidget* parent)
    : JobSection(parent), card_(new Card(tr("Did the earlier repair hold?"), this)),
      question_(new QLabel(card_)), asking_(new QWidget(card_)), decided_(new QWidget(card_)),
      grid_(new FormGrid(6, decided_)), effect_(new QLabel(decided_)), unfold_(new QPushButton(decided_)),
      costGrid_(new FormGrid(6, decided_)), earlier_(new RecordBox<core::JobId>(tr("None"))),
      decision_(makeEnumBox<core::ComebackDecision>(this)),
      decidedBy_(new RecordBox<core::StaffId>(tr("Choose"))), reason_(new QLineEdit),
      payer_(makeEnumBox<core::Payer>(this)), cost_(new MoneyField),
      claimState_(makeEnumBox<core::ClaimState>(this)), claim_(new QLineEdit), deadline_(new DateField),
      claimed_(new MoneyField) {
    for (MoneyField*& kind : kinds_)
        kind = new MoneyField;
    auto* stack = new QVBoxLayout(this);
    stack->setContentsMargins(0, 0, 0, 0);
    stack->addWidget(card_);
    makeQuestion();
    makeAnswer();
    makeCosts();
    unfoldCosts(false);
    updateParts();
}

void ComebackSection::makeQuestion() {
    question_->setWordWrap(true);
    question_->setObjectName(QStringLiteral("comebackQuestion"));
    auto* column = new QVBoxLayout(asking_);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(kHalf);
    column->addWidget(question_);
    auto* row = new QHBoxLayout;
    row->setSpacing(kGrid);
    const std::pair<QString, core::ComebackDecision> answers[] = {
        {tr("Sa&me concern is back"), core::ComebackDecision::SameConcern},
        {tr("Anot&her part"), core::ComebackDecision::OtherPart},
        {tr("Our wor&kmanship"), core::ComebackDecision::Workmanship},
        {tr("Wron&g diagnosis"), core::ComebackDecision::WrongDiagnosis},
        {tr("Not reproduced &yet"), core::ComebackDecision::NotReproduced},
        {tr("Not a com&eback"), core::ComebackDecision::Unrelated}};
    for (const auto& [label, decision] : answers) {
        auto* button = new QPushButton(label, asking_);
        button->setObjectName(QStringLiteral("decide-") +
                              QString::fromUtf8(core::toCode(decision).data(),
                                                static_cast<qsizetype>(core::toCode(decision).size())));
        button->setToolTip(effectOf(decision));
        button->setAccessibleDescription(effectOf(decision));
        row->addWidget(button);
        connect(button, &QPushButton::clicked, this, [this, decision = decision] { decide(decision); });
    }
    row->addStretch();
    column->addLayout(row);
    card_->body()->addWidget(asking_);
}

void ComebackSection::makeAnswer() {
    setGrid(grid_);
    grid_->addField(tr("Earlier repair"), earlier_, QStringLiteral("comebackOf"), 2);
    grid_->addField(tr("What was decided"), decision_, QStringLiteral("comebackDecision"));
    grid_->addField(tr("Decided by"), decidedBy_, QStringLiteral("decidedBy"));
    grid_->addField(tr("Cause, or why it is not a comeback"), reason_, QStringLiteral("comebackCause"), 2);
    theme::setText(effect_, TextRole::Small, true);
    effect_->setObjectName(QStringLiteral("comebackEffect"));
    effect_->setWordWrap(true);
    unfold_->setObjectName(QStringLiteral("comebackCosts"));
    unfold_->setCheckable(true);
    theme::setRole(unfold_, ButtonRole::Quiet);
    auto* line = new QHBoxLayout;
    line->setSpacing(kGrid);
    line->addWidget(effect_, 1);
    line->addWidget(unfold_);
    auto* column = new QVBoxLayout(decided_);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(kHalf);
    column->addWidget(grid_);
    column->addLayout(line);
    column->addWidget(costGrid_);
    card_->body()->addWidget(decided_);
    connect(unfold_, &QPushButton::toggled, this, &ComebackSection::unfoldCosts);
    for (QComboBox* box : {static_cast<QComboBox*>(earlier_), decision_, static_cast<QComboBox*>(decidedBy_)})
        connect(box, &QComboBox::activated, this, [this] {
            updateParts();
            emit edited();
        });
    connect(reason_, &QLineEdit::textEdited, this, &JobSection::edited);
}

void ComebackSection::makeCosts() {
    const auto addKind = [this](const QString& label, std::size_t kind) {
        costGrid_->addField(label, kinds_[kind], QString::fromLatin1(kCostKinds[kind].second));
    };
    costGrid_->addField(tr("Who pays"), payer_, QStringLiteral("payer"));
    addKind(tr("Labour at cost"), 0);
    addKind(tr("Parts"), 1);
    addKind(tr("Rental"), 2);
    addKind(tr("Towing"), 3);
    addKind(tr("Goodwill"), 4);
    costGrid_->addField(tr("Any other cost"), cost_, QStringLiteral("comebackCost"));
    costGrid_->addField(tr("Claim to supplier"), claimState_, QStringLiteral("claimState"));
    costGrid_->addField(tr("File it by"), deadline_, QStringLiteral("claimDeadline"));
    costGrid_->addField(tr("Claim number"), claim_, QStringLiteral("claimNumber"));
    costGrid_->addField(tr("Claimed"), claimed_, QStringLiteral("claimAmount"));
    addKind(tr("Credited"), 5);
    cost_->setToolTip(tr("Whatever the kinds do not name, or the whole of a cost that is not broken down"));
    kinds_[5]->setToolTip(tr("What the supplier or the maker gave back: it lessens the cost"));
    for (QComboBox* box : {payer_, claimState_})
        connect(box, &QComboBox::activated, this, &JobSection::edited);
    connect(claim_, &QLineEdit::textEdited, this, &JobSection::edited);
    for (MoneyField* amount : amounts())
        connect(amount, &DecimalField::edited, this, &JobSection::edited);
    connect(deadline_, &DateField::edited, this, &JobSection::edited);
}

std::vector<MoneyField*> ComebackSection::amounts() const {
    std::vector<MoneyField*> all(kinds_.begin(), kinds_.end());
    all.insert(all.end(), {cost_, claimed_});
    return all;
}

core::ComebackCosts ComebackSection::kindsTyped() const {
    core::ComebackCosts costs;
    for (std::size_t kind = 0; kind < kinds_.size(); ++kind)
        costs.*kCostKinds[kind].first = kinds_[kind]->money().value_or(core::Money{});
    return costs;
}

bool ComebackSection::isAnythingTyped() const {
    const auto all = amounts();
    return std::any_of(all.begin(), all.end(),
                       [](const MoneyField* amount) { return amount->money().has_value(); }) ||
           !claim_->text().isEmpty() || deadline_->date() ||
           valueIn<core::Payer>(payer_) != core::Payer::Unknown ||
           valueIn<core::ClaimState>(claimState_) != core::ClaimState::None;
}

core::Findings ComebackSection::setFindings(const core::Findings& findings) {
    const core::Findings rest = JobSection::setFindings(findings);
    core::Findings left = costGrid_->setFindings(rest);
    // A finding that nobody sees helps nobody.
    if (left.size() < rest.size())
        unfold_->setChecked(true);
    return left;
}

bool ComebackSection::focusField(const QString& name) {
    if (JobSection::focusField(name))
        return true;
    if (costGrid_->field(name) == nullptr)
        return false;
    unfold_->setChecked(true);
    return costGrid_->focusField(name);
}

void ComebackSection::unfoldCosts(bool open) {
    costGrid_->setVisible(open);
    unfold_->setText(foldedText());
}

QString ComebackSection::foldedText() const {
    if (costGrid_->isVisibleTo(decided_))
        return tr("&Fold costs and claim away");
    QStringList known;
    const core::ComebackCosts kinds = kindsTyped();
    const core::Money other = cost_->money().value_or(core::Money{});
    if (kinds != core::ComebackCosts{} || other != core::Money{})
        known << tr("it cost %1").arg(moneyText(kinds.total() + other, toText(context_.settings.currency)));
    const auto state = valueIn<core::ClaimState>(claimState_);
    const auto by = deadline_->date();
    if (state == core::ClaimState::ToFile && by)
        known << tr("claim to be filed by %1").arg(dateText(*by));
    else if (state != core::ClaimState::None)
        known << tr("claim %1").arg(word(state).toLower());
    return known.isEmpty() ? tr("Un&fold costs and claim \u2026")
                           : tr("Un&fold costs and claim: %1 \u2026").arg(known.join(QStringLiteral(", ")));
}

void ComebackSection::setContext(const BayContext& context) {
    context_ = context;
    for (MoneyField* amount : amounts())
        amount->setCurrency(toText(context.settings.currency));
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
    for (std::size_t kind = 0; kind < kinds_.size(); ++kind)
        kinds_[kind]->setMoney(shown(job.comebackCosts.*kCostKinds[kind].first));
    cost_->setMoney(shown(job.comebackCost));
    showIn(claimState_, job.claimState);
    claimed_->setMoney(job.claimAmount);
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
    job.comebackCosts = kindsTyped();
    job.comebackCost = cost_->money().value_or(core::Money{});
    job.claimState = valueIn<core::ClaimState>(claimState_);
    job.claimAmount = claimed_->money();
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
    asking_->setVisible(asking);
    decided_->setVisible(decided);
    effect_->setText(effectOf(decision));
    // What it cost and the supplier's claim matter only where a repair did not hold.
    const bool costs = core::countsAsComeback(decision) || isAnythingTyped();
    unfold_->setVisible(costs);
    unfold_->setText(foldedText());
    if (!costs)
        unfold_->setChecked(false);
    if (asking)
        question_->setText(
            tr("The same concern was repaired before: %1. Did that repair hold? If not: what was it?")
                .arg(describe(*proposed_)));
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
