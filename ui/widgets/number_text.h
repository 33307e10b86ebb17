// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QLocale>
#include <QString>

#include <cstdint>
#include <optional>

namespace milehold::ui {

/// Reads a number that a person typed, as a whole number of 10^-digits, without going through floating point.
///
/// Takes the locale's digits grouping and decimal sign; spaces and apostrophes between digits are passed
/// over. A point or comma that cannot be a grouping sign (not three digits behind it) is read as the decimal
/// sign, since number pads type one of them whatever the locale. Empty for anything else: more decimals than
/// `digits`, other signs, or more than `most` either way.
std::optional<std::int64_t> readNumber(const QString& text, int digits, const QLocale& locale,
                                       std::int64_t most = 1'000'000'000'000'000);

/// The reverse, grouped as the locale does.
QString writeNumber(std::int64_t scaled, int digits, const QLocale& locale);

} // namespace milehold::ui
