// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/option_reader.h"

#include "app/cli/lives_input.h"

#include <CLI/CLI.hpp>

#include <cmath>

namespace milehold::cli {

using core::ErrorCode;
using core::Result;

template <class Value> Value OptionReader::kept(Result<Value> value) {
    if (value)
        return std::move(*value);
    if (result_)
        result_ = core::failureOf(value);
    return Value{};
}

void OptionReader::refuse(std::string_view option, const std::string& what) {
    if (result_)
        result_ = core::fail(ErrorCode::InvalidInput, std::string(option) + ": " + what);
}

void OptionReader::unknownWord(std::string_view option, const std::string& text,
                               std::span<const std::string_view> known) {
    std::string expected;
    for (std::size_t i = 0; i < known.size(); ++i) {
        if (i > 0)
            expected += i + 1 == known.size() ? " or " : ", ";
        expected += known[i];
    }
    refuse(option, "'" + text + "' is unknown; expected " + expected);
}

double OptionReader::share(std::string_view option, const std::string& text) {
    return kept(shareOption(option, text));
}

std::vector<double> OptionReader::shares(std::string_view option, const std::string& text) {
    auto values = kept(numbersOption(option, text));
    for (const double value : values)
        if (!(value > 0 && value < 1))
            refuse(option, "'" + text + "' is not right; expected shares between 0 and 1");
    return values;
}

double OptionReader::number(std::string_view option, const std::string& text) {
    return kept(numberOption(option, text));
}

double OptionReader::positive(std::string_view option, const std::string& text) {
    const double value = text.empty() ? 0.0 : number(option, text);
    if (text.empty())
        refuse(option, "missing; expected a number");
    else if (!(value > 0))
        refuse(option, "'" + text + "' is too small; expected more than 0");
    return value;
}

double OptionReader::notNegative(std::string_view option, const std::string& text) {
    const double value = number(option, text);
    if (value < 0)
        refuse(option, "'" + text + "' is too small; expected 0 or more");
    return value;
}

std::int64_t OptionReader::whole(std::string_view option, const std::string& text, std::int64_t least) {
    const double value = number(option, text);
    if (value != std::floor(value) || value < static_cast<double>(least) || value > 1e15) {
        refuse(option, "'" + text + "' is not right; expected a whole number of " + std::to_string(least) +
                           " or more");
        return least;
    }
    return static_cast<std::int64_t>(value);
}

std::vector<double> OptionReader::mileages(std::string_view option, const std::string& text) {
    return kept(mileagesOption(option, text));
}

std::optional<double> OptionReader::mileage(std::string_view option, const std::string& text) {
    const auto values = mileages(option, text);
    if (values.size() > 1)
        refuse(option, "'" + text + "' is more than one; expected one mileage");
    return values.empty() ? std::nullopt : std::optional(values.front());
}

std::vector<std::string> OptionReader::names(std::string_view option, const std::string& text) {
    return kept(namesOption(option, text));
}

void addLevelOption(CLI::App& command, std::string& level) {
    command.add_option("--level", level, "two-sided level of the limits")
        ->type_name("SHARE")
        ->capture_default_str();
}

void addAtOption(CLI::App& command, std::string& at, const char* what) {
    command.add_option("--at", at, what)->type_name("MILES,...");
}

} // namespace milehold::cli
