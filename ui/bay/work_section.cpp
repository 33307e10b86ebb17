// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/bay/work_section.h"

#include "ui/theme/theme.h"
#include "ui/widgets/decimal_field.h"
#include "ui/widgets/distance_field.h"
#include "ui/widgets/form_grid.h"
#include "ui/widgets/text.h"

#include <QLabel>
#include <QPlainTextEdit>
#include <QVBoxLayout>

namespace milehold::ui {
namespace {

constexpr int kLinesHeight = 104;
constexpr int kMostMonths = 1200;

/// Nothing stands for nought, so that an empty form is empty.
std::optional<core::Money> shown(core::Money money) {
    return money == core::Money{} ? std::nullopt : std::optional(money);
}

} // namespace

WorkSection::WorkSection(QWidget* parent)
    : JobSection(parent), grid_(new FormGrid(4, this)), lines_(new QPlainTextEdit), hours_(new HoursField),
      parts_(new MoneyField), labour_(new MoneyField), sublet_(new MoneyField), tax_(new MoneyField),
      discount_(new MoneyField), total_(new QLabel), warrantyMonths_(new DecimalField(0)),
      warrantyDistance_(new DistanceField) {
    auto* stack = new QVBoxLayout(this);
    stack->setContentsMargins(0, 0, 0, 0);
    stack->addWidget(grid_);
    stack->addStretch(1);
    setGrid(grid_);

    lines_->setFixedHeight(kLinesHeight);
    lines_->setPlaceholderText(tr("One work line a row"));
    warrantyMonths_->setSuffix(tr("months"));
    warrantyMonths_->setRange(0, kMostMonths);
    theme::setText(total_, TextRole::Lead);
    total_->setObjectName(QStringLiteral("total"));
    total_->setAlignment(Qt::AlignRight | Qt::AlignVCenter);

    grid_->addSection(tr("Work, money, warranty"));
    grid_->addField(tr("Work &lines"), lines_, QStringLiteral("lines"), 0);
    grid_->addField(tr("Ho&urs"), hours_, QStringLiteral("hours"));
    grid_->addField(tr("Parts"), parts_, QStringLiteral("partsPrice"));
    grid_->addField(tr("Labour"), labour_, QStringLiteral("labourPrice"));
    grid_->addField(tr("Sublet"), sublet_, QStringLiteral("sublet"));
    grid_->addField(tr("Tax"), tax_, QStringLiteral("tax"));
    grid_->addField(tr("Discount"), discount_, QStringLiteral("discount"));
    grid_->addField(tr("Warranty time"), warrantyMonths_, QStringLiteral("warrantyMonths"));
    grid_->addField(tr("Warranty distance"), warrantyDistance_, QStringLiteral("warrantyDistance"));
    grid_->addWide(total_);

    connect(lines_, &QPlainTextEdit::textChanged, this, &JobSection::edited);
    for (auto* field :
         {static_cast<DecimalField*>(hours_), static_cast<DecimalField*>(parts_),
          static_cast<DecimalField*>(labour_), static_cast<DecimalField*>(sublet_),
          static_cast<DecimalField*>(tax_), static_cast<DecimalField*>(discount_), warrantyMonths_}) {
        connect(field, &DecimalField::edited, this, &JobSection::edited);
        connect(field, &QLineEdit::textChanged, this, &WorkSection::showTotal);
    }
    connect(warrantyDistance_, &DistanceField::edited, this, &JobSection::edited);
    showTotal();
}

void WorkSection::setContext(const BayContext& context) {
    currency_ = context.settings.currency;
    for (auto* field : {parts_, labour_, sublet_, tax_, discount_})
        field->setCurrency(toText(currency_));
    warrantyDistance_->setUnit(context.unit);
    showTotal();
}

void WorkSection::showJob(const core::Job& job) {
    const QSignalBlocker blocked(lines_);
    QStringList lines;
    for (const auto& line : job.lines)
        lines << toText(line);
    lines_->setPlainText(lines.join(QChar('\n')));
    hours_->setHours(job.hours == core::Hours{} ? std::nullopt : std::optional(job.hours));
    parts_->setMoney(shown(job.partsPrice));
    labour_->setMoney(shown(job.labourPrice));
    sublet_->setMoney(shown(job.sublet));
    tax_->setMoney(shown(job.tax));
    discount_->setMoney(shown(job.discount));
    warrantyMonths_->setScaled(job.warrantyMonths ? std::optional<std::int64_t>(*job.warrantyMonths)
                                                  : std::nullopt);
    warrantyDistance_->setDistance(job.warrantyDistance);
    showTotal();
}

void WorkSection::readInto(core::Job& job) const {
    job.lines.clear();
    for (const auto& line : lines_->toPlainText().split(QChar('\n')))
        if (!line.trimmed().isEmpty())
            job.lines.push_back(toUtf8(line.trimmed()));
    job.hours = hours_->hours().value_or(core::Hours{});
    job.partsPrice = parts_->money().value_or(core::Money{});
    job.labourPrice = labour_->money().value_or(core::Money{});
    job.sublet = sublet_->money().value_or(core::Money{});
    job.tax = tax_->money().value_or(core::Money{});
    job.discount = discount_->money().value_or(core::Money{});
    const auto months = warrantyMonths_->scaled();
    job.warrantyMonths = months ? std::optional(static_cast<int>(*months)) : std::nullopt;
    job.warrantyDistance = warrantyDistance_->distance();
}

void WorkSection::showTotal() {
    core::Job job;
    readInto(job);
    total_->setText(tr("Total %1").arg(moneyText(job.total(), toText(currency_))));
}

} // namespace milehold::ui
