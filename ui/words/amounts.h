// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quantity/date.h"
#include "core/quantity/distance.h"
#include "core/quantity/money.h"

#include <QString>

#include <cstdint>
#include <optional>
#include <string>

namespace milehold::ui {

/// `mi` or `km`.
QString unitText(core::DistanceUnit unit);
/// `miles` or `kilometres`.
QString unitWord(core::DistanceUnit unit);

/// `48,200` with the locale's separators; whole units.
QString countText(double count);
QString countText(std::int64_t count);
/// `48,200 mi`.
QString distanceText(double count, core::DistanceUnit unit);
QString distanceText(core::Distance distance, core::DistanceUnit unit);
/// `48 k`, `1.2 M` on narrow columns: at most three figures.
QString shortCountText(double count);
/// A distance that is quoted, to the nearest thousand; below a thousand as it is.
double quotedDistance(double count);

/// `91 %` of a share in [0, 1]. Never rounds a share below one to 100 % nor one above nothing to 0 %.
QString percentText(double share);
/// The whole number that percentText() shows.
int percentOf(double share);
/// `84 to 97 %`; an empty limit is said in words.
QString limitsText(std::optional<double> lower, std::optional<double> upper);

/// `$1,480.00` by the locale; the number of minor digits follows ISO 4217.
QString moneyText(core::Money money, const std::string& currency);
/// As moneyText(), without the minor digits when they are zero.
QString shortMoneyText(core::Money money, const std::string& currency);
/// `6.5 h`.
QString hoursText(core::Hours hours);
/// The locale's short date with a four-digit year; blank for what is no date.
QString dateText(core::Date date);

/// `1 repair`, `38 repairs`.
QString repairsText(int count);
/// `none came back`, `1 came back`, `4 came back`.
QString cameBackText(int count);

QString text(const std::string& utf8);
std::string utf8(const QString& text);

} // namespace milehold::ui
