// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/bay/found_section.h"

#include "core/shop/trouble_code.h"
#include "ui/bay/pickers.h"
#include "ui/theme/theme.h"
#include "ui/widgets/decimal_field.h"
#include "ui/widgets/form_grid.h"

#include <QLabel>
#include <QLineEdit>
#include <QRegularExpression>
#include <QVBoxLayout>

#include <cmath>

namespace milehold::ui {
namespace {

/// Kilopascals in a pound-force per square inch.   Source: NIST SP 811 (2008), appendix B.8.
constexpr double kKpaPerPsi = 6.894757;
constexpr int kMostHours = 100'000;
constexpr int kMostTenths = 1'000'000;
constexpr int kMostPressure = 1'000'000;

QComboBox* makeCalibrationBox(QWidget* parent) {
    auto* box = new QComboBox(parent);
    box->setEditable(true);
    box->setInsertPolicy(QComboBox::NoInsert);
    box->lineEdit()->setMaxLength(200);
    ignoreWheel(box);
    return box;
}

QString joined(const std::vector<core::JobCode>& codes, bool after) {
    QStringList texts;
    for (const auto& code : codes)
        if (code.after == after)
            texts << toText(code.code);
    return texts.join(QChar(' '));
}

QStringList split(const QLineEdit* field) {
    static const QRegularExpression gaps(QStringLiteral("[\\s,;]+"));
    return field->text().toUpper().split(gaps, Qt::SkipEmptyParts);
}

} // namespace

FoundSection::FoundSection(QWidget* parent)
    : JobSection(parent), grid_(new FormGrid(4, this)), soak_(new DecimalField(0)),
      rattle_(new DecimalField(1)), oilLevel_(makeEnumBox<core::OilLevel>(this)),
      oilCondition_(makeEnumBox<core::OilCondition>(this)), oilGrade_(new QLineEdit),
      oilPressure_(new DecimalField(0)), codesBefore_(new QLineEdit), codesAfter_(new QLineEdit),
      meanings_(new QLabel), calibrationBefore_(makeCalibrationBox(this)),
      calibrationAfter_(makeCalibrationBox(this)) {
    auto* stack = new QVBoxLayout(this);
    stack->setContentsMargins(0, 0, 0, 0);
    stack->addWidget(grid_);
    stack->addStretch(1);
    setGrid(grid_);

    soak_->setSuffix(tr("h"));
    soak_->setRange(0, kMostHours);
    rattle_->setSuffix(tr("s"));
    rattle_->setRange(0, kMostTenths);
    oilPressure_->setRange(0, kMostPressure);
    codesBefore_->setPlaceholderText(tr("such as P0011 P0014"));
    meanings_->setWordWrap(true);
    meanings_->setObjectName(QStringLiteral("codeMeanings"));
    theme::setText(meanings_, TextRole::Small, true);

    grid_->addSection(tr("Found before the work"));
    grid_->addField(tr("Stood cold for"), soak_, QStringLiteral("before.soakHours"));
    grid_->addField(tr("Start-up rattle"), rattle_, QStringLiteral("before.rattleTenths"));
    grid_->addField(tr("Oil level"), oilLevel_, QStringLiteral("oilLevel"));
    grid_->addField(tr("Oil condition"), oilCondition_, QStringLiteral("oilCondition"));
    grid_->addField(tr("Oil grade"), oilGrade_, QStringLiteral("oilGrade"));
    grid_->addField(tr("Oil pressure, hot idle"), oilPressure_, QStringLiteral("oilPressureKpa"));
    grid_->addField(tr("Trouble codes &before"), codesBefore_, QStringLiteral("codes"));
    grid_->addField(tr("Trouble codes after"), codesAfter_, QStringLiteral("codesAfter"));
    grid_->addWide(meanings_);
    grid_->addField(tr("Calibration before"), calibrationBefore_, QStringLiteral("calibrationBefore"), 2);
    grid_->addField(tr("Calibration after"), calibrationAfter_, QStringLiteral("calibrationAfter"), 2);
    calibrationBefore_->lineEdit()->setAccessibleName(tr("Calibration before"));
    calibrationAfter_->lineEdit()->setAccessibleName(tr("Calibration after"));

    for (auto* field : {soak_, rattle_, oilPressure_})
        connect(field, &DecimalField::edited, this, &JobSection::edited);
    for (auto* field : {oilGrade_, codesBefore_, codesAfter_})
        connect(field, &QLineEdit::textEdited, this, &JobSection::edited);
    for (auto* field : {codesBefore_, codesAfter_})
        connect(field, &QLineEdit::textChanged, this, &FoundSection::explainCodes);
    for (auto* box : {oilLevel_, oilCondition_, calibrationBefore_, calibrationAfter_})
        connect(box, &QComboBox::activated, this, &JobSection::edited);
    for (auto* box : {calibrationBefore_, calibrationAfter_})
        connect(box->lineEdit(), &QLineEdit::textEdited, this, &JobSection::edited);
    explainCodes();
}

void FoundSection::setContext(const BayContext& context) {
    const auto held = pressure();
    context_ = context;
    oilPressure_->setSuffix(context.unit == core::DistanceUnit::Miles ? tr("psi") : tr("kPa"));
    showPressure(held);
    fillCalibrations();
}

void FoundSection::setVehicle(const core::Vehicle& vehicle) {
    vehicle_ = vehicle;
    fillCalibrations();
}

void FoundSection::fillCalibrations() {
    for (auto* box : {calibrationBefore_, calibrationAfter_}) {
        const QString typed = box->currentText();
        const QSignalBlocker blocked(box);
        box->clear();
        for (const auto& calibration : context_.shelf->calibrations) {
            const bool engine = !calibration.family || calibration.family == vehicle_.family;
            const auto year = vehicle_.modelYear;
            const bool inYears = !year || ((!calibration.fromYear || *calibration.fromYear <= *year) &&
                                           (!calibration.toYear || *year <= *calibration.toYear));
            if (!engine || !inYears)
                continue;
            const bool current = core::newestOf(*context_.shelf, calibration.id) == calibration.id;
            box->addItem(toText(calibration.code));
            box->setItemData(box->count() - 1,
                             current ? tr("%1: current").arg(toText(calibration.module))
                                     : tr("%1: superseded").arg(toText(calibration.module)),
                             Qt::ToolTipRole);
        }
        box->setEditText(typed);
    }
}

void FoundSection::showPressure(std::optional<int> kpa) {
    const bool psi = context_.unit == core::DistanceUnit::Miles;
    oilPressure_->setScaled(kpa ? std::optional<std::int64_t>(psi ? std::llround(*kpa / kKpaPerPsi) : *kpa)
                                : std::nullopt);
}

std::optional<int> FoundSection::pressure() const {
    const auto shown = oilPressure_->scaled();
    if (!shown)
        return std::nullopt;
    const bool psi = context_.unit == core::DistanceUnit::Miles;
    return static_cast<int>(psi ? std::llround(static_cast<double>(*shown) * kKpaPerPsi) : *shown);
}

void FoundSection::showJob(const core::Job& job) {
    const auto whole = [](std::optional<int> value) {
        return value ? std::optional<std::int64_t>(*value) : std::nullopt;
    };
    soak_->setScaled(whole(job.before.soakHours));
    rattle_->setScaled(whole(job.before.rattleTenths));
    showIn(oilLevel_, job.oilLevel);
    showIn(oilCondition_, job.oilCondition);
    oilGrade_->setText(toText(job.oilGrade));
    showPressure(job.oilPressureKpa);
    codesBefore_->setText(joined(job.codes, false));
    codesAfter_->setText(joined(job.codes, true));
    calibrationBefore_->setEditText(toText(job.calibrationBefore));
    calibrationAfter_->setEditText(toText(job.calibrationAfter));
}

std::vector<core::JobCode> FoundSection::codes() const {
    std::vector<core::JobCode> codes;
    for (const auto& code : split(codesBefore_))
        codes.push_back({toUtf8(code), false});
    for (const auto& code : split(codesAfter_))
        codes.push_back({toUtf8(code), true});
    return codes;
}

void FoundSection::readInto(core::Job& job) const {
    const auto whole = [](const DecimalField* field) {
        const auto value = field->scaled();
        return value ? std::optional(static_cast<int>(*value)) : std::nullopt;
    };
    job.before.soakHours = whole(soak_);
    job.before.rattleTenths = whole(rattle_);
    job.oilLevel = valueIn<core::OilLevel>(oilLevel_);
    job.oilCondition = valueIn<core::OilCondition>(oilCondition_);
    job.oilGrade = toUtf8(oilGrade_->text().trimmed());
    job.oilPressureKpa = pressure();
    job.codes = codes();
    job.calibrationBefore = toUtf8(calibrationBefore_->currentText().trimmed());
    job.calibrationAfter = toUtf8(calibrationAfter_->currentText().trimmed());
}

void FoundSection::explainCodes() {
    QStringList lines;
    for (const auto& code : codes()) {
        const auto meaning = core::describeTroubleCode(code.code);
        if (!meaning)
            continue;
        const QString said = !meaning->description.empty() ? toText(meaning->description)
                             : meaning->makerDefined       ? tr("the maker's own code")
                                                           : tr("not in our table");
        const QString line = tr("%1: %2").arg(toText(meaning->code), said);
        if (!lines.contains(line))
            lines << line;
    }
    meanings_->setText(lines.join(QChar('\n')));
    meanings_->setVisible(!lines.isEmpty());
}

core::Findings FoundSection::setFindings(const core::Findings& findings) {
    // Codes are one list in the job and two fields here: the first ones stand before the work.
    const int before = static_cast<int>(split(codesBefore_).size());
    core::Findings routed = findings;
    for (auto& finding : routed) {
        static const QRegularExpression entry(QStringLiteral("^codes\\[(\\d+)\\]"));
        if (const auto match = entry.match(toText(finding.field)); match.hasMatch())
            finding.field = match.captured(1).toInt() < before ? "codes" : "codesAfter";
    }
    return JobSection::setFindings(routed);
}

} // namespace milehold::ui
