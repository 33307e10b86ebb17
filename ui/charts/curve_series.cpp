// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/charts/curve_series.h"

#include <algorithm>

namespace milehold::ui {

namespace {

/// Number of steps at or before a mileage.
std::size_t stepsUpTo(const CurveSeries& series, double miles) {
    return static_cast<std::size_t>(std::upper_bound(series.miles.begin(), series.miles.end(), miles) -
                                    series.miles.begin());
}

} // namespace

CurveSeries curveSeries(const core::Curve& curve, const QString& id, const QString& name, int look) {
    CurveSeries series;
    series.id = id;
    series.name = name;
    series.look = look;
    series.miles = curve.miles;
    series.survival = curve.survival;
    series.lower = curve.lower;
    series.upper = curve.upper;
    series.watched = curve.watched;
    series.limitsBegin = curve.limitsBegin;
    series.limitsEnd = curve.limitsEnd;
    series.limitsBeforeFirst = curve.limitsBeforeFirst;
    series.lowerBeforeFirst = curve.lowerBeforeFirst;
    series.upperBeforeFirst = curve.upperBeforeFirst;
    series.lives = curve.lives;
    series.comebacks = curve.comebacks;
    series.longestWatched = curve.longestWatched;
    // The first mileage by which half came back; the office may set a finer one.
    for (std::size_t i = 0; i < curve.survival.size(); ++i) {
        if (curve.survival[i] <= 0.5) {
            series.median = curve.miles[i];
            break;
        }
    }
    return series;
}

double watchedAt(const CurveSeries& series, double miles) {
    if (series.watchedAt)
        return series.watchedAt(miles);
    // `watched[i]` holds on (miles[i-1], miles[i]].
    const auto at = static_cast<std::size_t>(
        std::lower_bound(series.miles.begin(), series.miles.end(), miles) - series.miles.begin());
    return at < series.watched.size() ? series.watched[at] : 0.0;
}

std::optional<CurveReading> readAt(const CurveSeries& series, double miles, double fewerThan) {
    if (miles < 0 || miles > series.longestWatched || series.miles.empty())
        return std::nullopt;
    CurveReading reading;
    const std::size_t steps = stepsUpTo(series, miles);
    if (steps > 0) {
        const std::size_t i = steps - 1;
        reading.survival = series.survival[i];
        if (i >= series.limitsBegin && i < series.limitsEnd && i < series.lower.size() &&
            i < series.upper.size()) {
            reading.lower = series.lower[i];
            reading.upper = series.upper[i];
        }
    } else if (series.limitsBeforeFirst) {
        reading.lower = series.lowerBeforeFirst;
        reading.upper = series.upperBeforeFirst;
    }
    reading.watched = watchedAt(series, miles);
    reading.few = reading.watched < fewerThan;
    return reading;
}

double faintFrom(const CurveSeries& series, double fewerThan) {
    for (std::size_t i = 0; i < series.watched.size(); ++i) {
        if (series.watched[i] < fewerThan)
            return i == 0 ? 0.0 : series.miles[i - 1];
    }
    return series.longestWatched;
}

} // namespace milehold::ui
