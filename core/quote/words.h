// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quantity/distance.h"

#include <cstdint>
#include <string>
#include <string_view>

namespace milehold::core {

/// `24,000`.
std::string grouped(std::int64_t count);

/// A distance in words, to the nearest thousand: `24,000 miles`, `1 mile`; one below a thousand as it is.
std::string distanceWords(double count, DistanceUnit unit);

/// The nearest thousand of a distance; one below a thousand to the nearest whole.
std::int64_t toThousand(double count);

/// A chance as a whole percent: `87 %`. One that is not quite all or nothing never reads as all or nothing:
/// `more than 99 %`, `less than 1 %`.
std::string percentWords(double chance);

/// As percentWords(), but rounded down, for what is said with "at least".
std::string atLeastWords(double chance);

/// Whole percent of a limit, rounded outward so that what is printed covers what was worked out: the lower
/// one down, the upper one up. One that is a whole percent but for the last bits of its arithmetic is that
/// percent. An estimate between two limits never lies outside them once rounded to the nearest.
long percentDown(double share);
long percentUp(double share);

/// A lower and an upper limit in words: `84 % to 97 %`.
std::string limitWords(double lower, double upper);

/// The level of limits: `95 %`, `99.9 %`.
std::string levelWords(double level);

/// `1 repair`, `38 repairs`.
std::string countWords(std::int64_t count, std::string_view one, std::string_view many);

/// `about 2 years`, `about 1.5 years`, `about 8 months`.
std::string timeWords(double years);

/// `One`, `Two`, `Three`, `Four` for the counts that say almost nothing; digits beyond.
std::string smallNumber(int count);

} // namespace milehold::core
