// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/quote/words.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>

namespace milehold::core {

namespace {

constexpr double kLastBits = 1e-9;

std::string withoutZeroDecimals(double value, int decimals) {
    char text[48];
    std::snprintf(text, sizeof text, "%.*f", decimals, value);
    std::string result = text;
    if (result.find('.') != std::string::npos) {
        result.erase(result.find_last_not_of('0') + 1);
        if (result.back() == '.')
            result.pop_back();
    }
    return result;
}

} // namespace

std::string grouped(std::int64_t count) {
    std::string text = std::to_string(count);
    const std::size_t first = count < 0 ? 1 : 0;
    for (std::size_t at = text.size(); at > first + 3;)
        text.insert(at -= 3, 1, ',');
    return text;
}

std::int64_t toThousand(double count) {
    if (count < 1000)
        return std::llround(count);
    return std::llround(count / 1000) * 1000;
}

std::string distanceWords(double count, DistanceUnit unit) {
    const std::int64_t rounded = toThousand(count);
    const bool isOne = rounded == 1;
    if (unit == DistanceUnit::Kilometres)
        return grouped(rounded) + (isOne ? " kilometre" : " kilometres");
    return grouped(rounded) + (isOne ? " mile" : " miles");
}

std::string percentWords(double chance) {
    const auto percent = std::lround(chance * 100);
    if (percent >= 100 && chance < 1)
        return "more than 99 %";
    if (percent <= 0 && chance > 0)
        return "less than 1 %";
    return std::to_string(percent) + " %";
}

std::string atLeastWords(double chance) {
    const long percent = percentDown(chance);
    return percent <= 0 && chance > 0 ? "less than 1 %" : std::to_string(percent) + " %";
}

long percentDown(double share) {
    return static_cast<long>(std::floor(share * 100 + kLastBits));
}

long percentUp(double share) {
    return static_cast<long>(std::ceil(share * 100 - kLastBits));
}

std::string limitWords(double lower, double upper) {
    return std::to_string(percentDown(lower)) + " % to " + std::to_string(percentUp(upper)) + " %";
}

std::string levelWords(double level) {
    return withoutZeroDecimals(level * 100, 3) + " %";
}

std::string countWords(std::int64_t count, std::string_view one, std::string_view many) {
    std::string text = grouped(count) + " ";
    return text += count == 1 ? one : many;
}

std::string timeWords(double years) {
    const auto months = std::lround(years * 12);
    if (months < 12)
        return "about " + countWords(std::max(months, 1L), "month", "months");
    const double rounded = years < 10 ? std::round(years * 2) / 2 : std::round(years);
    return "about " + withoutZeroDecimals(rounded, 1) + (rounded == 1 ? " year" : " years");
}

std::string smallNumber(int count) {
    static constexpr std::array<std::string_view, 5> kWords = {"None", "One", "Two", "Three", "Four"};
    if (count >= 0 && count < static_cast<int>(kWords.size()))
        return std::string(kWords[static_cast<std::size_t>(count)]);
    return grouped(count);
}

} // namespace milehold::core
