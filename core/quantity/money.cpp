// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/quantity/money.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <limits>

namespace milehold::core {

namespace {

constexpr std::array<std::string_view, 16> kWithoutMinor = {"BIF", "CLP", "DJF", "GNF", "ISK", "JPY",
                                                            "KMF", "KRW", "PYG", "RWF", "UGX", "UYI",
                                                            "VND", "VUV", "XAF", "XOF"};
constexpr std::array<std::string_view, 7> kThreeDigits = {"BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"};

std::uint64_t magnitude(std::int64_t value) {
    const auto bits = static_cast<std::uint64_t>(value);
    return value < 0 ? ~bits + 1 : bits;
}

} // namespace

int minorDigits(std::string_view currency) {
    if (std::find(kWithoutMinor.begin(), kWithoutMinor.end(), currency) != kWithoutMinor.end())
        return 0;
    if (std::find(kThreeDigits.begin(), kThreeDigits.end(), currency) != kThreeDigits.end())
        return 3;
    return 2;
}

std::string toDecimal(Money money, int digits) {
    std::string text = std::to_string(magnitude(money.minor));
    const auto decimals = static_cast<std::size_t>(std::max(digits, 0));
    if (text.size() <= decimals)
        text.insert(0, decimals + 1 - text.size(), '0');
    if (decimals > 0)
        text.insert(text.size() - decimals, 1, '.');
    return money.minor < 0 ? "-" + text : text;
}

std::optional<Money> moneyFromDecimal(std::string_view text, int digits) {
    const bool negative = !text.empty() && text.front() == '-';
    if (negative)
        text.remove_prefix(1);
    const std::size_t point = text.find('.');
    const std::string_view whole = text.substr(0, point);
    const std::string_view fraction = point == std::string_view::npos ? "" : text.substr(point + 1);
    const auto decimals = static_cast<std::size_t>(std::max(digits, 0));
    if (whole.empty() || fraction.size() > decimals || (point != std::string_view::npos && fraction.empty()))
        return std::nullopt;
    std::string plain(whole);
    plain += fraction;
    plain.append(decimals - fraction.size(), '0');
    // from_chars takes a sign of its own, which has no place after the first character.
    if (!std::all_of(plain.begin(), plain.end(), [](char c) { return c >= '0' && c <= '9'; }))
        return std::nullopt;
    std::int64_t minor = 0;
    const auto [end, error] = std::from_chars(plain.data(), plain.data() + plain.size(), minor);
    if (error != std::errc() || end != plain.data() + plain.size())
        return std::nullopt;
    return Money{negative ? -minor : minor};
}

} // namespace milehold::core
