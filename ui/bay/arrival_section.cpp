// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/bay/arrival_section.h"

#include "ui/theme/theme.h"
#include "ui/widgets/date_field.h"
#include "ui/widgets/distance_field.h"
#include "ui/widgets/findings.h"
#include "ui/widgets/form_grid.h"

#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QVBoxLayout>

#include <algorithm>

namespace milehold::ui {

ArrivalSection::ArrivalSection(QWidget* parent)
    : JobSection(parent), grid_(new FormGrid(2, this)), odometerFinding_(new InlineFinding),
      replaced_(new QPushButton(tr("The instrument was replaced"))), odometerIn_(new DistanceField),
      odometerOut_(new DistanceField), firstSeen_(new DistanceField), writtenUp_(new DateField),
      started_(new DateField), delivered_(new DateField),
      technician_(new RecordBox<core::StaffId>(tr("Choose"))),
      advisor_(new RecordBox<core::StaffId>(tr("Nobody"))), repairOrder_(new QLineEdit) {
    auto* stack = new QVBoxLayout(this);
    stack->setContentsMargins(0, 0, 0, 0);
    stack->addWidget(grid_);
    stack->addStretch(1);
    setGrid(grid_);

    grid_->addField(tr("Odometer &in"), odometerIn_, QStringLiteral("odometerIn"));
    grid_->addField(tr("Odometer &out"), odometerOut_, QStringLiteral("odometerOut"));
    // Under both, since what is wrong lies between them or in the record, and it takes a few words.
    grid_->addWide(odometerFinding_);
    grid_->addWide(replaced_);
    replaced_->setObjectName(QStringLiteral("instrumentReplaced"));
    theme::setRole(replaced_, ButtonRole::Quiet);
    replaced_->hide();
    connect(replaced_, &QPushButton::clicked, this, &ArrivalSection::instrumentReplaced);
    grid_->addField(tr("First seen &here at"), firstSeen_, QStringLiteral("firstSeen"), 2);
    grid_->addField(tr("&Written up"), writtenUp_, QStringLiteral("writtenUp"));
    grid_->addField(tr("&Delivered"), delivered_, QStringLiteral("delivered"));
    grid_->addField(tr("&Technician"), technician_, QStringLiteral("technician"));
    grid_->addField(tr("Advisor"), advisor_, QStringLiteral("advisor"));
    grid_->addField(tr("&Repair order"), repairOrder_, QStringLiteral("repairOrder"));
    grid_->addField(tr("Work started"), started_, QStringLiteral("started"));

    for (auto* field : {odometerIn_, odometerOut_, firstSeen_})
        connect(field, &DistanceField::edited, this, &JobSection::edited);
    for (auto* field : {writtenUp_, started_, delivered_})
        connect(field, &DateField::edited, this, &JobSection::edited);
    for (auto* box : {technician_, advisor_})
        connect(box, &QComboBox::activated, this, &JobSection::edited);
    connect(repairOrder_, &QLineEdit::textEdited, this, &JobSection::edited);
    connect(odometerIn_, &QLineEdit::editingFinished, this, &ArrivalSection::fillOdometerOut);
    setStage(core::JobKind::Repair, true);
}

void ArrivalSection::setContext(const BayContext& context) {
    today_ = context.today;
    for (auto* field : {odometerIn_, odometerOut_, firstSeen_})
        field->setUnit(context.unit);
    for (auto* field : {writtenUp_, started_, delivered_})
        field->setToday(context.today);
    technician_->setChoices(staffChoices(context.staff, &core::Staff::technician));
    advisor_->setChoices(staffChoices(context.staff, &core::Staff::advisor));
}

void ArrivalSection::showJob(const core::Job& job) {
    odometerIn_->setDistance(job.odometerIn);
    odometerOut_->setDistance(job.odometerOut);
    firstSeen_->setDistance(job.firstSeen);
    writtenUp_->setDate(job.writtenUp.ok() ? std::optional(job.writtenUp) : std::nullopt);
    started_->setDate(job.started);
    delivered_->setDate(job.delivered);
    technician_->setId(job.technician);
    advisor_->setId(job.advisor);
    repairOrder_->setText(toText(job.repairOrder));
    finished_ = job.isDelivered();
    setStage(job.kind, finished_);
}

void ArrivalSection::readInto(core::Job& job) const {
    job.odometerIn = odometerIn_->distance();
    job.odometerOut = odometerOut_->distance();
    job.firstSeen = firstSeen_->distance();
    job.writtenUp = writtenUp_->date().value_or(core::Date{});
    job.started = started_->date();
    job.delivered = finished_ ? delivered_->date() : std::nullopt;
    job.technician = technician_->id();
    job.advisor = advisor_->id();
    job.repairOrder = toUtf8(repairOrder_->text().trimmed());
}

void ArrivalSection::setStage(core::JobKind kind, bool finished) {
    const bool elsewhere = kind == core::JobKind::Elsewhere;
    if (finished && !finished_ && delivered_->text().isEmpty())
        delivered_->setDate(today_);
    finished_ = finished;
    setCellVisible(delivered_, finished);
    setCellVisible(odometerOut_, finished);
    setCellVisible(firstSeen_, elsewhere);
    setCellVisible(started_, !elsewhere);
    grid_->labelOf(QStringLiteral("odometerOut"))
        ->setText(elsewhere ? tr("&Odometer then") : tr("Odometer &out"));
    grid_->labelOf(QStringLiteral("odometerIn"))
        ->setText(elsewhere ? tr("At arrival, if kno&wn") : tr("Odometer &in"));
    grid_->labelOf(QStringLiteral("writtenUp"))->setText(elsewhere ? tr("Heard of o&n") : tr("&Written up"));
    grid_->labelOf(QStringLiteral("delivered"))->setText(elsewhere ? tr("Repaire&d on") : tr("&Delivered"));
}

core::Findings ArrivalSection::setFindings(const core::Findings& findings) {
    core::Findings own;
    core::Findings others;
    for (const auto& finding : findings)
        (finding.field == "odometerIn" || finding.field == "odometerOut" ? own : others).push_back(finding);
    const auto mark = [&own, this](DistanceField* field) {
        FieldState state = FieldState::Plain;
        for (const auto& finding : own)
            if (toText(finding.field) == field->objectName())
                state = finding.severity == core::Severity::Error     ? FieldState::Error
                        : finding.severity == core::Severity::Warning ? std::max(state, FieldState::Warning)
                                                                      : state;
        theme::setFieldState(field, state);
        field->setAccessibleDescription(state == FieldState::Plain ? QString() : odometerFinding_->text());
    };
    odometerFinding_->setFindings(own);
    mark(odometerIn_);
    mark(odometerOut_);
    // Only where there is a reading to have fallen; and the keyboard does not vanish with the button.
    const bool fell = core::hasErrors(own) && odometerIn_->distance();
    if (!fell && replaced_->hasFocus())
        odometerOut_->setFocus(Qt::OtherFocusReason);
    replaced_->setVisible(fell);
    return JobSection::setFindings(others);
}

void ArrivalSection::fillOdometerOut() {
    // Most vehicles leave with what they came with; arriving in the field selects it, so that typing replaces
    // it.
    if (!finished_ || !odometerOut_->text().isEmpty() || !odometerIn_->isModified() ||
        !odometerIn_->distance())
        return;
    odometerOut_->setDistance(odometerIn_->distance());
    emit edited();
}

void ArrivalSection::setCellVisible(QWidget* field, bool visible) {
    field->parentWidget()->setVisible(visible);
}

} // namespace milehold::ui
