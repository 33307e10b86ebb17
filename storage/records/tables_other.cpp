// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/records/record_table.h"
#include "storage/records/stored.h"

namespace milehold::storage {

using core::ShopSettings;

template <> const RecordTable<StoredOdometer>& recordTable() {
    using Stored = StoredOdometer;
    static const RecordTable<Stored> kTable{
        "odometer",
        {column<Stored, &Stored::vehicle>("vehicle_id"), column<Stored, &Stored::date>("date"),
         column<Stored, &Stored::shown>("shown"), column<Stored, &Stored::source>("source"),
         column<Stored, &Stored::resetOffset>("reset_offset"), column<Stored, &Stored::job>("job_id"),
         column<Stored, &Stored::followUp>("follow_up_id"), column<Stored, &Stored::moment>("moment")}};
    return kTable;
}

template <> const RecordTable<StoredSettings>& recordTable() {
    using Stored = StoredSettings;
    constexpr auto kSettings = &Stored::settings;
    static const RecordTable<Stored> kTable{
        "shop",
        {column<Stored, kSettings, &ShopSettings::name>("name"),
         column<Stored, kSettings, &ShopSettings::unit>("unit"),
         column<Stored, kSettings, &ShopSettings::currency>("currency"),
         column<Stored, kSettings, &ShopSettings::locale>("locale"),
         column<Stored, kSettings, &ShopSettings::warrantyMonths>("warranty_months"),
         column<Stored, kSettings, &ShopSettings::warrantyDistance>("warranty_distance"),
         column<Stored, kSettings, &ShopSettings::warrantyTerms>("warranty_terms"),
         column<Stored, kSettings, &ShopSettings::defaultYearly>("default_yearly"),
         column<Stored, kSettings, &ShopSettings::quietVisitCounts>("quiet_visit_counts"),
         column<Stored, kSettings, &ShopSettings::lostAfterMonths>("lost_after_months")}};
    return kTable;
}

} // namespace milehold::storage
