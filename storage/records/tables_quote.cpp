// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/quote/given_quote.h"
#include "storage/records/record_table.h"

namespace milehold::storage {

using core::GivenQuote;

template <> const RecordTable<GivenQuote>& recordTable() {
    static const RecordTable<GivenQuote> kTable{
        "given_quote",
        {column<GivenQuote, &GivenQuote::vehicle>("vehicle_id"),
         column<GivenQuote, &GivenQuote::path>("path_id"), column<GivenQuote, &GivenQuote::job>("job_id"),
         column<GivenQuote, &GivenQuote::date>("date"), column<GivenQuote, &GivenQuote::by>("staff_id"),
         column<GivenQuote, &GivenQuote::horizon>("horizon"),
         column<GivenQuote, &GivenQuote::chance>("chance"),
         column<GivenQuote, &GivenQuote::lower>("chance_lower"),
         column<GivenQuote, &GivenQuote::upper>("chance_upper"),
         column<GivenQuote, &GivenQuote::atLeast>("at_least"),
         column<GivenQuote, &GivenQuote::worst>("worst"), column<GivenQuote, &GivenQuote::lives>("lives"),
         column<GivenQuote, &GivenQuote::comebacks>("comebacks"),
         column<GivenQuote, &GivenQuote::yearly>("yearly"), column<GivenQuote, &GivenQuote::price>("price"),
         column<GivenQuote, &GivenQuote::sentence>("sentence")}};
    return kTable;
}

} // namespace milehold::storage
