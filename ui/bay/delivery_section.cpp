// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/bay/delivery_section.h"

#include "ui/widgets/decimal_field.h"
#include "ui/widgets/form_grid.h"
#include "ui/widgets/segmented.h"
#include "ui/words/labels.h"

#include <QVBoxLayout>

#include <algorithm>
#include <array>

namespace milehold::ui {
namespace {

constexpr std::array kChecks = {core::DeliveryCheck::Quiet, core::DeliveryCheck::Noisy,
                                core::DeliveryCheck::NotDone};
constexpr int kMostHours = 100'000;
constexpr int kMostTenths = 1'000'000;

} // namespace

DeliverySection::DeliverySection(QWidget* parent)
    : JobSection(parent), grid_(new FormGrid(4, this)), check_(new Segmented), soak_(new DecimalField(0)),
      rattle_(new DecimalField(1)) {
    auto* stack = new QVBoxLayout(this);
    stack->setContentsMargins(0, 0, 0, 0);
    stack->addWidget(grid_);
    setGrid(grid_);

    QStringList words;
    for (const auto check : kChecks) // the usual end of a job is one key press away
        words << (check == core::DeliveryCheck::Quiet ? tr("&Quiet") : word(check));
    check_->setChoices(words);
    soak_->setSuffix(tr("h"));
    soak_->setRange(0, kMostHours);
    rattle_->setSuffix(tr("s"));
    rattle_->setRange(0, kMostTenths);
    grid_->addField(tr("Cold start before deli&very"), check_, QStringLiteral("deliveryCheck"), 2);
    grid_->addField(tr("Stood cold for"), soak_, QStringLiteral("after.soakHours"));
    grid_->addField(tr("Rattle"), rattle_, QStringLiteral("after.rattleTenths"));

    connect(check_, &Segmented::chosen, this, &JobSection::edited);
    for (auto* field : {soak_, rattle_})
        connect(field, &DecimalField::edited, this, &JobSection::edited);
}

void DeliverySection::showJob(const core::Job& job) {
    const auto at = std::find(kChecks.begin(), kChecks.end(), job.deliveryCheck);
    check_->setCurrent(static_cast<int>(at - kChecks.begin()));
    soak_->setScaled(job.after.soakHours ? std::optional<std::int64_t>(*job.after.soakHours) : std::nullopt);
    rattle_->setScaled(job.after.rattleTenths ? std::optional<std::int64_t>(*job.after.rattleTenths)
                                              : std::nullopt);
}

void DeliverySection::readInto(core::Job& job) const {
    const int chosen = check_->current();
    job.deliveryCheck = chosen < 0 ? core::DeliveryCheck::NotDone : kChecks[static_cast<std::size_t>(chosen)];
    const auto soak = soak_->scaled();
    const auto rattle = rattle_->scaled();
    job.after.soakHours = soak ? std::optional(static_cast<int>(*soak)) : std::nullopt;
    job.after.rattleTenths = rattle ? std::optional(static_cast<int>(*rattle)) : std::nullopt;
}

} // namespace milehold::ui
