// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/lives_input.h"

#include "core/life/life_record.h"
#include "core/survival/lives.h"
#include "storage/exchange/shop_lives.h"

#include <CLI/CLI.hpp>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <ostream>

namespace milehold::cli {

using core::ErrorCode;
using core::Result;

namespace {

tl::unexpected<core::Error> wrong(std::string_view option, const std::string& what) {
    return core::fail(ErrorCode::InvalidInput, std::string(option) + ": " + what);
}

std::string facetList() {
    std::string facets;
    for (const core::Facet& facet : core::facets())
        facets += (facets.empty() ? "" : ", ") + std::string(facet.id);
    return facets;
}

std::string noFacet(const std::string& name) {
    return "'" + name + "' is no facet; expected one of " + facetList();
}

std::vector<std::string_view> partsOf(std::string_view text) {
    std::vector<std::string_view> parts;
    for (;;) {
        const std::size_t comma = text.find(',');
        parts.push_back(text.substr(0, comma));
        if (comma == std::string_view::npos)
            return parts;
        text.remove_prefix(comma + 1);
    }
}

} // namespace

void addLivesInput(CLI::App& options, LivesInput& input) {
    options.add_option("--csv", input.csv, "lives table (CSV with a header row); - is standard input")
        ->type_name("FILE");
    options.add_option("--shop", input.shop.folder, "lives of a shop: a folder NAME.milehold")
        ->type_name("FOLDER");
    options.add_option("--by", input.by, "how a shop's lives are grouped: " + facetList())
        ->type_name("FACET")
        ->capture_default_str();
    options.add_option("--today", input.shop.today, "the day on which a shop is looked at (default: today)")
        ->type_name("YYYY-MM-DD");
}

void addStrataInput(CLI::App& options, LivesInput& input) {
    options.add_option("--stratum-by", input.stratumBy, "what makes the strata of a shop's lives")
        ->type_name("FACET");
}

namespace {

Result<storage::LivesTable> livesOfShop(const LivesInput& input, const storage::LivesTableOptions& options) {
    if (options.histories)
        return wrong("--shop", "the histories of vehicles are read from a table only; expected --csv FILE");
    if (options.needStratum && input.stratumBy.empty())
        return wrong("--stratum",
                     "the lives of a shop have strata only by a facet; expected --stratum-by FACET");
    if (core::facetById(input.by) == nullptr)
        return wrong("--by", noFacet(input.by));
    if (!input.stratumBy.empty() && core::facetById(input.stratumBy) == nullptr)
        return wrong("--stratum-by", noFacet(input.stratumBy));
    const auto today = dateOption("--today", input.shop.today, localToday());
    if (!today)
        return core::failureOf(today);
    Result<storage::LivesTable> table;
    const auto done = withShop(input.shop, [&](storage::Shop& shop) -> Result<void> {
        table = storage::livesFromShop(
            shop, {*today, input.by, input.stratumBy, options.factors,
                   input.keepIntervals ? core::Intervals::Keep : core::Intervals::AtSeen});
        if (!table)
            return core::failureOf(table);
        return {};
    });
    if (!done)
        return core::failureOf(done);
    if (table->lives.size() == 0)
        return core::fail(ErrorCode::NotEstimable,
                          input.shop.folder + ": the shop has no finished repair yet");
    return table;
}

} // namespace

Result<storage::LivesTable> readLives(Session& session, const LivesInput& input,
                                      const storage::LivesTableOptions& asked) {
    storage::LivesTableOptions options = asked;
    options.keepIntervals = input.keepIntervals;
    if (!input.shop.folder.empty() && !input.csv.empty())
        return wrong("--csv", "a table and a shop were named; expected one of them");
    if (!input.shop.folder.empty())
        return livesOfShop(input, options);
    if (input.csv.empty())
        return wrong(
            "--csv",
            "no lives were named; expected --csv FILE, --csv - for standard input, or --shop FOLDER");
    auto table = storage::readLivesTable(input.csv, options);
    if (!table)
        return table;
    for (const std::string& warning : table->warnings)
        session.err << "milehold-cli: note: " << warning << '\n';
    if (const auto pair = core::nearlyEqualMileages(table->lives)) {
        char text[2][32];
        for (int k = 0; k < 2; ++k)
            *std::to_chars(text[k], text[k] + 31, k == 0 ? pair->smaller : pair->larger).ptr = '\0';
        session.err << "milehold-cli: note: " << storage::nameOfSource(input.csv) << ": " << pair->pairs
                    << " pairs of mileages differ by less than a millionth and are not ties, such as "
                    << text[0] << " and " << text[1] << '\n';
    }
    return table;
}

Result<double> numberOption(std::string_view option, std::string_view text) {
    double value = 0;
    const auto [rest, problem] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (problem != std::errc{} || rest != text.data() + text.size() || !std::isfinite(value))
        return wrong(option, "'" + std::string(text) + "' is not a finite number; expected one");
    return value + 0.0;
}

Result<std::vector<double>> numbersOption(std::string_view option, std::string_view text) {
    std::vector<double> values;
    if (text.empty())
        return values;
    for (const std::string_view part : partsOf(text)) {
        const auto value = numberOption(option, part);
        if (!value)
            return core::failureOf(value);
        values.push_back(*value);
    }
    return values;
}

Result<double> shareOption(std::string_view option, std::string_view text) {
    const auto value = numberOption(option, text);
    if (!value)
        return value;
    if (!(*value > 0 && *value < 1))
        return wrong(option, "'" + std::string(text) + "' is not a share; expected a number between 0 and 1");
    return value;
}

Result<std::vector<double>> mileagesOption(std::string_view option, std::string_view text) {
    auto values = numbersOption(option, text);
    if (!values)
        return values;
    for (const double value : *values)
        if (value < 0)
            return wrong(option, "a mileage is negative; expected numbers of 0 or more");
    return values;
}

Result<std::vector<std::string>> namesOption(std::string_view option, std::string_view text) {
    std::vector<std::string> names;
    if (text.empty())
        return names;
    for (const std::string_view part : partsOf(text)) {
        if (part.empty())
            return wrong(option, "a name is empty; expected names with commas between them");
        if (std::find(names.begin(), names.end(), part) != names.end())
            return wrong(option, "'" + std::string(part) + "' is named twice; expected each name once");
        names.emplace_back(part);
    }
    return names;
}

} // namespace milehold::cli
