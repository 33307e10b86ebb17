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
    return curveSeries(std::make_shared<const core::Curve>(curve), id, name, look);
}

CurveSeries curveSeries(const std::shared_ptr<const core::Curve>& curve, const QString& id,
                        const QString& name, int look) {
    const auto column = [&curve](const std::vector<double>& numbers) {
        return SharedColumn(std::shared_ptr<const std::vector<double>>(curve, &numbers));
    };
    CurveSeries series;
    series.id = id;
    series.name = name;
    series.look = look;
    series.miles = column(curve->miles);
    series.survival = column(curve->survival);
    series.lower = column(curve->lower);
    series.upper = column(curve->upper);
    series.watched = column(curve->watched);
    series.limitsBegin = curve->limitsBegin;
    series.limitsEnd = curve->limitsEnd;
    series.limitsBeforeFirst = curve->limitsBeforeFirst;
    series.lowerBeforeFirst = curve->lowerBeforeFirst;
    series.upperBeforeFirst = curve->upperBeforeFirst;
    series.lives = curve->lives;
    series.comebacks = curve->comebacks;
    series.longestWatched = curve->longestWatched;
    // The first mileage by which half came back; the office may set a finer one. A curve never rises.
    const auto half = std::partition_point(curve->survival.begin(), curve->survival.end(),
                                           [](double survival) { return survival > 0.5; });
    if (half != curve->survival.end())
        series.median = curve->miles[static_cast<std::size_t>(half - curve->survival.begin())];
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
