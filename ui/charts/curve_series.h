// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quantity/distance.h"
#include "core/survival/curve.h"
#include "ui/charts/shared_column.h"

#include <QString>

#include <functional>
#include <memory>
#include <optional>
#include <vector>

namespace milehold::ui {

/// A dashed continuation past the last watched mileage: a projection, labelled so.
struct CurveProjection {
    std::vector<double> miles, survival, lower, upper; ///< same length, ascending; limits may be empty
};

/// One line of the curve chart. Columns have one entry per step, mileages ascending, all in CurveData::unit.
struct CurveSeries {
    QString id;   ///< comes back in clicks
    QString name; ///< shown and spoken
    int look = 0; ///< number of the colour and dash, see seriesLook()
    SharedColumn miles;
    SharedColumn survival;     ///< from this step on
    SharedColumn lower, upper; ///< limits from this step on; used over [limitsBegin, limitsEnd)
    SharedColumn watched;      ///< just before this step
    std::size_t limitsBegin = 0;
    std::size_t limitsEnd = 0;
    bool limitsBeforeFirst = false; ///< limits over [0, first step)
    double lowerBeforeFirst = 0;
    double upperBeforeFirst = 1;
    double lives = 0;
    double comebacks = 0;
    double longestWatched = 0;    ///< nothing is drawn past it but a projection
    std::optional<double> median; ///< by which half came back; empty: not reached
    std::optional<CurveProjection> projection;
    /// How many are watched at a mileage; without it the steps' own column is read.
    std::function<double(double miles)> watchedAt;
};

/// What the chart shows. `unit` is the unit of every mileage in it.
struct CurveData {
    std::vector<CurveSeries> series;
    core::DistanceUnit unit = core::DistanceUnit::Miles;
    double level = 0.95;  ///< of the limits, for the words
    double fewerThan = 5; ///< drawn faint where fewer are watched
    QString emptyText;    ///< while there is no series: what to do first
};

/// A series from core's curve; name, look and id are the caller's.
CurveSeries curveSeries(const core::Curve& curve, const QString& id, const QString& name, int look);
/// The same without copying its columns; never null.
CurveSeries curveSeries(const std::shared_ptr<const core::Curve>& curve, const QString& id,
                        const QString& name, int look);

/// The value of a series at a mileage; empty beyond its last watched mileage.
struct CurveReading {
    double survival = 1;
    std::optional<double> lower, upper;
    double watched = 0;
    bool few = false; ///< fewer than CurveData::fewerThan are watched
};
std::optional<CurveReading> readAt(const CurveSeries& series, double miles, double fewerThan);

/// How many of the series are watched at a mileage (at 0: all).
double watchedAt(const CurveSeries& series, double miles);

/// The mileage from which on fewer than `fewerThan` are watched; longestWatched when that never happens.
double faintFrom(const CurveSeries& series, double fewerThan);

} // namespace milehold::ui
