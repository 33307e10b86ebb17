// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/exchange/shop_lives.h"

#include "storage/exchange/cells.h"
#include "storage/exchange/exchange_store.h"
#include "storage/exchange/name_list.h"
#include "storage/shop.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <ostream>

namespace milehold::storage {

using core::ErrorCode;

namespace {

constexpr std::string_view kNotRecorded = "not recorded";

/// Everything that both outputs are made from.
struct Gathered {
    core::Shelf shelf;
    std::vector<core::Staff> staff;
    std::vector<core::LifeRecord> records;
    core::LifeColumns columns;

    core::FacetNames names() const { return {shelf, staff}; }
    const core::LifeRecord& recordOf(std::size_t row) const { return records[columns.rows[row]]; }
};

core::Result<Gathered> gather(Shop& shop, core::Date today, core::Intervals intervals) {
    auto context = shop.exchange().context();
    if (!context)
        return core::failureOf(context);
    auto records = shop.lives().records(today);
    if (!records)
        return core::failureOf(records);
    Gathered all{std::move(context->shelf), std::move(context->staff), std::move(*records), {}};
    std::vector<core::Life> lives;
    lives.reserve(all.records.size());
    for (const auto& record : all.records)
        lives.push_back(record.life);
    all.columns = core::toColumns(lives, context->settings.unit, core::Reading::Known, intervals);
    return all;
}

core::Result<const core::Facet*> facetNamed(std::string_view id) {
    if (const auto* facet = core::facetById(id))
        return facet;
    std::string all;
    for (const auto& facet : core::facets())
        all += (all.empty() ? "" : ", ") + std::string(facet.id);
    return core::fail(ErrorCode::InvalidInput,
                      "'" + std::string(id) + "' is no facet; expected one of " + all);
}

std::string valueOf(const Gathered& all, std::size_t row, const core::Facet& facet) {
    auto value = facet.valueOf(all.recordOf(row), all.names());
    return value.empty() ? std::string(kNotRecorded) : value;
}

std::string numberCell(double value) {
    std::array<char, 32> text{};
    const auto end = std::to_chars(text.data(), text.data() + text.size(), value).ptr;
    return {text.data(), end};
}

} // namespace

core::Result<LivesTable> livesFromShop(Shop& shop, const ShopLivesOptions& options) {
    const auto by = facetNamed(options.by);
    if (!by)
        return core::failureOf(by);
    auto gathered = gather(shop, options.today, options.intervals);
    if (!gathered)
        return core::failureOf(gathered);
    LivesTable table;
    table.columns = {"miles", "end", "until", "entry", "group", "vehicle"};
    table.lives = std::move(gathered->columns.lives);
    const std::size_t n = table.lives.size();
    const auto columnOf = [&](const core::Facet& facet, std::vector<std::string>& names) {
        NameList list;
        std::vector<std::uint32_t> column(n);
        for (std::size_t i = 0; i < n; ++i)
            column[i] = list.indexOf(valueOf(*gathered, i, facet));
        names = list.take();
        return column;
    };
    if (n > 0)
        table.lives.group = columnOf(**by, table.lives.groupNames);
    if (!options.stratum.empty()) {
        const auto stratum = facetNamed(options.stratum);
        if (!stratum)
            return core::failureOf(stratum);
        table.lives.stratum = columnOf(**stratum, table.lives.stratumNames);
        table.columns.emplace_back("stratum");
    }
    for (const auto& id : options.factors) {
        const auto facet = facetNamed(id);
        if (!facet)
            return core::failureOf(facet);
        FactorColumn factor;
        factor.name = id;
        factor.level = columnOf(**facet, factor.levels);
        table.factors.push_back(std::move(factor));
    }
    for (const auto& facet : core::facets())
        table.columns.emplace_back(facet.id);
    core::sortGroups(table.lives);
    return table;
}

core::Result<std::size_t> exportLives(Shop& shop, const ShopLivesOptions& options, TableSink& out) {
    const auto by = facetNamed(options.by);
    if (!by)
        return core::failureOf(by);
    auto gathered = gather(shop, options.today, core::Intervals::Keep);
    if (!gathered)
        return core::failureOf(gathered);
    const core::Lives& lives = gathered->columns.lives;
    std::vector<TableColumn> header = {
        {"miles", CellKind::Number}, {"end"},   {"last_quiet", CellKind::Number},
        {"entry", CellKind::Number}, {"group"}, {"vehicle", CellKind::Number}};
    core::Date first = options.today;
    if (options.days) {
        header.push_back({"entered", CellKind::Number});
        header.push_back({"days", CellKind::Number});
        for (const auto& record : gathered->records)
            first = std::min(first, record.life.repairedOn);
    }
    for (const auto& facet : core::facets())
        header.push_back({std::string(facet.id)});
    core::Result<void> written = out.header(header);
    std::vector<std::string> cells;
    for (std::size_t i = 0; written && i < lives.size(); ++i) {
        const bool isInterval = lives.untilOf(i) > lives.miles[i];
        cells = {numberCell(lives.untilOf(i)),
                 lives.endNames[lives.end[i]],
                 isInterval ? numberCell(lives.miles[i]) : std::string(),
                 numberCell(lives.entryOf(i)),
                 guarded(valueOf(*gathered, i, **by)),
                 std::to_string(lives.vehicle[i] + 1)};
        if (options.days) {
            const core::Life& life = gathered->recordOf(i).life;
            cells.push_back(std::to_string(core::daysBetween(first, life.repairedOn)));
            cells.push_back(std::to_string(
                std::max<std::int64_t>(0, core::daysBetween(life.repairedOn, life.lastKnownOn))));
        }
        for (const auto& facet : core::facets())
            cells.push_back(guarded(valueOf(*gathered, i, facet)));
        written = out.row(cells);
    }
    if (written)
        written = out.finish();
    if (!written)
        return core::failureOf(written);
    return lives.size();
}

core::Result<std::size_t> exportLives(Shop& shop, const ShopLivesOptions& options, std::ostream& out) {
    CsvSink sink(out);
    return exportLives(shop, options, sink);
}

} // namespace milehold::storage
