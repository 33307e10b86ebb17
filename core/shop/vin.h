// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/finding.h"

#include <optional>
#include <string>
#include <string_view>

namespace milehold::core {

/// Number of characters of a vehicle identification number from model year 1981 on.
inline constexpr std::size_t kVinLength = 17;

/// What was scanned or typed, as a VIN: spaces, asterisks (Code 39 start and stop) and control characters at
/// the ends dropped, letters raised, and the leading `I` that marks an import in Code 39 dropped where 17
/// follow it.
std::string vinFromScan(std::string_view scanned);

/// True for 17 characters of the VIN alphabet: digits and capitals without I, O and Q.
bool isWellFormedVin(std::string_view vin);

/// The sum of transliterated values times the weights of their positions; empty unless well formed.
/// Source: 49 CFR 565.15(c), tables III to V.
std::optional<int> vinWeightedSum(std::string_view vin);

/// The character that position 9 must hold: the remainder of that sum by 11, `X` for 10; empty unless well
/// formed.
std::optional<char> vinCheckDigit(std::string_view vin);

/// The model year of position 10, told apart by position 7: a digit there means 1980 to 2009, a letter 2010
/// to 2039. Holds for passenger cars, multipurpose vehicles and trucks up to 10,000 lb rated for North
/// America; others may use the positions freely. Empty unless well formed, and for U, Z and 0, which never
/// stand for a year. Source: 49 CFR 565.15(d)(1), table VII.
std::optional<int> vinModelYear(std::string_view vin);

/// The last eight characters, by which shops look a vehicle up; the whole text when it is shorter.
std::string vinSearchKey(std::string_view vin);

/// The same VIN with O and Q read as 0 and I as 1, when that makes it well formed with a right check digit.
std::optional<std::string> vinWithoutSlips(std::string_view vin);

/// What there is to say about a VIN in field `vin`; nothing for a blank one. A wrong length or alphabet is an
/// error for model years from 1981 on and where the year is not known; a check digit that does not fit is a
/// warning, as makers outside North America need not use it.
Findings checkVin(std::string_view vin, std::optional<int> modelYear);

} // namespace milehold::core
