// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/lives_input.h"

#include "core/survival/lives.h"

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
}

Result<storage::LivesTable> readLives(Session& session, const LivesInput& input,
                                      const storage::LivesTableOptions& options) {
    if (input.csv.empty())
        return wrong("--csv", "no lives were named; expected --csv FILE, or --csv - for standard input");
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
