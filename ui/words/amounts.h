// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quantity/distance.h"
#include "core/quantity/money.h"

#include <QString>

#include <optional>
#include <string>

namespace milehold::ui {

/// Wordings of figures that the Office and the Counter share, beyond those of ui/widgets/text.h.

/// `miles` or `kilometres`.
QString unitWord(core::DistanceUnit unit);
/// `412 k`, `1.2 M` for narrow columns.
QString shortCountText(double count);
/// A distance that is quoted, to the nearest thousand; below a thousand as it is.
double quotedDistance(double count);
/// An estimate to the hundred: `298,400 mi`.
QString estimateText(core::Distance distance, core::DistanceUnit unit);
/// `84 to 97 %`, rounded outward; a missing limit is said in words.
QString limitsText(std::optional<double> lower, std::optional<double> upper);
/// `95 % or more`, rounded down: a one-sided limit.
QString orMoreText(double share);
/// As moneyText(), without minor digits when they are zero.
QString priceText(core::Money money, const std::string& currency);
/// A sum that was worked out, in whole units of the currency: `$62`.
QString roundPriceText(double minor, const std::string& currency);
/// `1 repair`, `38 repairs`.
QString repairsText(int count);
/// `none came back`, `4 came back`.
QString cameBackText(int count);

} // namespace milehold::ui
