// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quantity/date.h"
#include "core/quantity/distance.h"
#include "ui/charts/painted_chart.h"

#include <vector>

namespace milehold::ui {

enum class ReadingMark { Plain, Repair, Quiet, NoiseBack };

struct OdometerReading {
    QString id;
    core::Date date{};
    core::Distance odometer;
    ReadingMark mark = ReadingMark::Plain;
    bool resetBefore = false; ///< the instrument was replaced since the reading before: the line is broken
    QString text;             ///< what happened, for the tooltip
};

/// A vehicle's odometer over the years, small enough for a card: readings, repairs, comebacks.
class OdometerLine : public PaintedChart {
    Q_OBJECT
public:
    using PaintedChart::PaintedChart;
    /// In date order.
    void setReadings(std::vector<OdometerReading> readings, core::DistanceUnit unit);
    ChartTable asTable() const override;
    QSize sizeHint() const override { return {320, 96}; }
    QSize minimumSizeHint() const override { return {120, 56}; }

protected:
    void paintChart(QPainter& painter, const QRectF& rect, const Tokens& tokens, int current) const override;
    int markCount() const override;
    QString markId(int mark) const override;
    QString markText(int mark) const override;
    int markAt(const QPointF& at) const override;

private:
    QPointF place(std::size_t reading, const QRectF& rect) const;
    QRectF plotRect(const QRectF& rect) const;
    std::vector<OdometerReading> readings_;
    core::DistanceUnit unit_ = core::DistanceUnit::Miles;
};

} // namespace milehold::ui
