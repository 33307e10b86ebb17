// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/charts/chart_table.h"
#include "ui/charts/curve_series.h"

namespace milehold::ui {

enum class ChartWord { StillQuiet, MilesSince, KilometresSince, Watched, Projection };
QString chartWords(ChartWord word);

/// From one unit of distance to another.
double unitFactor(core::DistanceUnit from, core::DistanceUnit to);

/// `412 repairs, 18 came back, half by 83,000 mi`.
QString keyWords(const CurveSeries& series, core::DistanceUnit dataUnit, core::DistanceUnit shown);

/// `11 of 124 came back`, for tight places.
QString shortKeyWords(const CurveSeries& series);

/// `91 % (84 to 95 %)`, or what may be said.
QString readingWords(const CurveReading& reading);

/// One sentence a series, for readers that cannot see the chart.
QString spokenCurves(const CurveData& data, core::DistanceUnit shown);

/// The figures at the marks (in the shown unit).
ChartTable curveTable(const CurveData& data, const std::vector<double>& marks, core::DistanceUnit shown);

} // namespace milehold::ui
