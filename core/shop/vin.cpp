// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/shop/vin.h"

#include <algorithm>
#include <array>

namespace milehold::core {

namespace {

constexpr std::size_t kCheckPlace = 8;
constexpr std::size_t kYearPlace = 9;
constexpr std::size_t kGenerationPlace = 6;
constexpr std::array<int, kVinLength> kWeights = {8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2};
// From 1980 on, one a year; thirty of them, then over again.
constexpr std::string_view kYearCodes = "ABCDEFGHJKLMNPRSTVWXY123456789";
constexpr int kFirstVinYear = 1981;

bool isDigit(char c) {
    return c >= '0' && c <= '9';
}

/// The value of a character in the weighted sum; -1 for one outside the alphabet.
int valueOf(char c) {
    if (isDigit(c))
        return c - '0';
    if (c == 'I' || c == 'O' || c == 'Q')
        return -1;
    if (c >= 'A' && c <= 'H')
        return c - 'A' + 1;
    if (c >= 'J' && c <= 'R')
        return c - 'J' + 1;
    if (c >= 'S' && c <= 'Z')
        return c - 'S' + 2;
    return -1;
}

bool isDroppedAtEnds(char c) {
    return c == ' ' || c == '*' || static_cast<unsigned char>(c) < 0x20 || c == 0x7F;
}

Finding ofVin(Severity severity, std::string message) {
    return {"vin", severity, std::move(message)};
}

} // namespace

std::string vinFromScan(std::string_view scanned) {
    while (!scanned.empty() && isDroppedAtEnds(scanned.front()))
        scanned.remove_prefix(1);
    while (!scanned.empty() && isDroppedAtEnds(scanned.back()))
        scanned.remove_suffix(1);
    std::string vin(scanned);
    for (char& c : vin)
        if (c >= 'a' && c <= 'z')
            c = static_cast<char>(c - 'a' + 'A');
    if (vin.size() == kVinLength + 1 && vin.front() == 'I')
        vin.erase(0, 1);
    return vin;
}

bool isWellFormedVin(std::string_view vin) {
    return vin.size() == kVinLength &&
           std::all_of(vin.begin(), vin.end(), [](char c) { return valueOf(c) >= 0; });
}

std::optional<int> vinWeightedSum(std::string_view vin) {
    if (!isWellFormedVin(vin))
        return std::nullopt;
    int sum = 0;
    for (std::size_t i = 0; i < kVinLength; ++i)
        sum += kWeights[i] * valueOf(vin[i]);
    return sum;
}

std::optional<char> vinCheckDigit(std::string_view vin) {
    const auto sum = vinWeightedSum(vin);
    if (!sum)
        return std::nullopt;
    const int remainder = *sum % 11;
    return remainder == 10 ? 'X' : static_cast<char>('0' + remainder);
}

std::optional<int> vinModelYear(std::string_view vin) {
    if (!isWellFormedVin(vin))
        return std::nullopt;
    const auto index = kYearCodes.find(vin[kYearPlace]);
    if (index == std::string_view::npos)
        return std::nullopt;
    return (isDigit(vin[kGenerationPlace]) ? 1980 : 2010) + static_cast<int>(index);
}

std::string vinSearchKey(std::string_view vin) {
    return std::string(vin.substr(vin.size() > 8 ? vin.size() - 8 : 0));
}

std::optional<std::string> vinWithoutSlips(std::string_view vin) {
    std::string mended(vin);
    std::replace(mended.begin(), mended.end(), 'O', '0');
    std::replace(mended.begin(), mended.end(), 'Q', '0');
    std::replace(mended.begin(), mended.end(), 'I', '1');
    if (mended == vin || vinCheckDigit(mended) != mended[std::min(kCheckPlace, mended.size())])
        return std::nullopt;
    return mended;
}

Findings checkVin(std::string_view vin, std::optional<int> modelYear) {
    if (vin.empty())
        return {};
    Findings findings;
    const bool old = modelYear && *modelYear < kFirstVinYear;
    const Severity severity = old ? Severity::Hint : Severity::Error;
    const std::string wayOut =
        modelYear ? "" : " An older vehicle than model year 1981 needs its model year first.";
    if (vin.size() != kVinLength)
        findings.push_back(ofVin(severity, "A VIN has 17 characters; this one has " +
                                               std::to_string(vin.size()) + "." + wayOut));
    const auto wrong = std::find_if(vin.begin(), vin.end(), [](char c) { return valueOf(c) < 0; });
    if (wrong != vin.end()) {
        const std::string place = std::to_string(wrong - vin.begin() + 1);
        if (*wrong == 'I' || *wrong == 'O' || *wrong == 'Q')
            findings.push_back(
                ofVin(severity, std::string("A VIN never holds the letter ") + *wrong + " (position " +
                                    place + "); it is " +
                                    (*wrong == 'I' ? "the digit 1." : "the digit 0 or another letter.") +
                                    (vinWithoutSlips(vin) ? " Read so, its check digit fits." : "")));
        else
            findings.push_back(ofVin(severity, "A VIN holds only digits and capital letters; position " +
                                                   place + " is neither."));
    }
    if (!isWellFormedVin(vin) || old)
        return findings;
    if (const char expected = *vinCheckDigit(vin); expected != vin[kCheckPlace])
        findings.push_back(
            ofVin(Severity::Warning,
                  std::string("The check digit (position 9) is ") + vin[kCheckPlace] + " where " + expected +
                      " was expected: one character may be wrong. Makers outside North America need "
                      "not use it."));
    const auto year = vinModelYear(vin);
    if (modelYear && year && *year != *modelYear)
        findings.push_back(ofVin(Severity::Hint, "By North American rules this VIN says model year " +
                                                     std::to_string(*year) + ", not " +
                                                     std::to_string(*modelYear) + "."));
    else if (!year)
        findings.push_back(
            ofVin(Severity::Hint, "Position 10 holds no model year of the North American rules."));
    return findings;
}

} // namespace milehold::core
