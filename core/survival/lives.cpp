// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/lives.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <numeric>
#include <optional>

namespace milehold::core {

namespace {

tl::unexpected<Error> badRow(std::size_t row, const char* rule) {
    return fail(ErrorCode::InvalidInput, "row " + std::to_string(row + 1) + ": " + rule);
}

template <class T> bool fits(const std::vector<T>& column, std::size_t n) {
    return column.empty() || column.size() == n;
}

Result<void> validateRow(const Lives& lives, std::size_t i) {
    const double miles = lives.miles[i];
    const double entry = lives.entryOf(i);
    const double until = lives.untilOf(i);
    const double weight = lives.weightOf(i);
    if (!std::isfinite(miles) || miles < 0)
        return badRow(i, "miles must be a finite number of 0 or more");
    if (lives.end[i] >= lives.endNames.size())
        return badRow(i, "end has no name");
    if (!std::isfinite(entry) || entry < 0)
        return badRow(i, "entry must be a finite number of 0 or more");
    if (entry >= miles && (entry > 0 || miles > 0))
        return badRow(i, "entry must be below miles");
    if (!std::isfinite(until) || until < miles)
        return badRow(i, "until must be finite and not below miles");
    if (until > miles && !lives.cameBack(i))
        return badRow(i, "until belongs to comebacks alone");
    if (!std::isfinite(weight) || !(weight > 0))
        return badRow(i, "weight must be a finite number above 0");
    if (lives.groupOf(i) >= lives.groupNames.size())
        return badRow(i, "group has no name");
    if (lives.stratumOf(i) >= lives.stratumNames.size())
        return badRow(i, "stratum has no name");
    return {};
}

std::optional<double> numberOf(const std::string& name) {
    const char* const last = name.data() + name.size();
    double value = 0;
    const auto [rest, problem] = std::from_chars(name.data(), last, value);
    if (problem != std::errc{} || rest != last || !std::isfinite(value))
        return std::nullopt;
    return value;
}

} // namespace

bool Lives::hasIntervals() const {
    for (std::size_t i = 0; i < until.size(); ++i)
        if (cameBack(i) && until[i] > miles[i])
            return true;
    return false;
}

Result<void> validate(const Lives& lives) {
    const std::size_t n = lives.size();
    if (lives.end.size() != n || !fits(lives.entry, n) || !fits(lives.until, n) || !fits(lives.weight, n) ||
        !fits(lives.group, n) || !fits(lives.stratum, n) || !fits(lives.vehicle, n))
        return fail(ErrorCode::InvalidInput, "the columns of the lives differ in length");
    if (lives.endNames.size() < kFirstOtherEnd)
        return fail(ErrorCode::InvalidInput, "the names of the two fixed ends are missing");
    for (std::size_t i = 0; i < n; ++i)
        if (auto row = validateRow(lives, i); !row)
            return row;
    return {};
}

std::optional<NearlyEqual> nearlyEqualMileages(const Lives& lives) {
    constexpr double kNear = 1e-6;
    const std::vector<double>* const columns[] = {&lives.miles, &lives.entry, &lives.until};
    const auto apart = [](double miles) { return miles <= 1 / kNear && miles == std::floor(miles); };
    bool allApart = true;
    for (const auto* column : columns)
        allApart = allApart && std::all_of(column->begin(), column->end(), apart);
    if (allApart)
        return std::nullopt;

    std::vector<double> all;
    for (const auto* column : columns)
        all.insert(all.end(), column->begin(), column->end());
    std::sort(all.begin(), all.end());
    std::optional<NearlyEqual> found;
    for (std::size_t i = 1; i < all.size(); ++i) {
        if (all[i] == all[i - 1] || all[i] - all[i - 1] >= kNear * all[i])
            continue;
        if (!found)
            found = NearlyEqual{all[i - 1], all[i], 0};
        ++found->pairs;
    }
    return found;
}

std::optional<std::vector<double>> numbersOf(const std::vector<std::string>& names) {
    std::vector<double> numbers;
    numbers.reserve(names.size());
    for (const std::string& name : names) {
        const auto number = numberOf(name);
        if (!number)
            return std::nullopt;
        numbers.push_back(*number);
    }
    return numbers;
}

void sortGroups(Lives& lives) {
    const std::size_t g = lives.groupNames.size();
    std::vector<std::uint32_t> order(g);
    std::iota(order.begin(), order.end(), 0U);
    const auto numbers = numbersOf(lives.groupNames);
    std::sort(order.begin(), order.end(), [&](std::uint32_t a, std::uint32_t b) {
        if (numbers && (*numbers)[a] != (*numbers)[b])
            return (*numbers)[a] < (*numbers)[b];
        return lives.groupNames[a] < lives.groupNames[b];
    });
    if (std::is_sorted(order.begin(), order.end()))
        return;

    std::vector<std::string> names(g);
    std::vector<std::uint32_t> placeOf(g);
    for (std::size_t place = 0; place < g; ++place) {
        names[place] = std::move(lives.groupNames[order[place]]);
        placeOf[order[place]] = static_cast<std::uint32_t>(place);
    }
    lives.groupNames = std::move(names);
    for (std::uint32_t& group : lives.group)
        group = placeOf[group];
}

} // namespace milehold::core
