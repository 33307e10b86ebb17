// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QString>

#include <vector>

namespace milehold::ui {

/// Round numbers from `from` to `to` inclusive, at most `most` of them (at least 2): steps of 1, 2, 2.5 or 5
/// times a power of ten. Empty for a range that is none.
std::vector<double> niceTicks(double from, double to, int most);

/// Round numbers on a logarithmic axis, 0 < from < to: 1, 2, 5 in each decade, fewer when that would be too
/// many.
std::vector<double> logTicks(double from, double to, int most);

/// As few decimals as tell these ticks apart, grouped by the locale.
QString tickText(double value, const std::vector<double>& ticks);

/// A share on an axis of shares, in per cent: `20 %`, `2.5 %`; what every chart writes.
QString shareTickText(double share, const std::vector<double>& ticks);

/// A straight map of values onto pixels.
struct Axis {
    double from = 0, to = 1;   ///< values
    double start = 0, end = 1; ///< pixels
    bool logarithmic = false;
    double at(double value) const; ///< pixel of a value
    double valueAt(double pixel) const;
};

} // namespace milehold::ui
