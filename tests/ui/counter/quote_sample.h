// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/settings.h"
#include "ui/counter/counter_values.h"

namespace milehold::tests {

/// A shelf of one invented engine family with `paths` repair paths, and lives of each as the sample tells
/// them: enough to quote. The quote is core's own.
struct QuoteSample {
    core::Shelf shelf;
    core::ShopSettings settings;
    std::vector<core::LifeRecord> lives;
    ui::CounterVehicle vehicle;
    ui::CounterChoices choices;

    core::Quote quote(std::int64_t horizon = 0) const;
};

/// Four paths: many repairs, some, many comebacks, and two repairs that say almost nothing.
QuoteSample usualQuote();
/// Seven paths with long names and cautions.
QuoteSample hugeQuote();

} // namespace milehold::tests
