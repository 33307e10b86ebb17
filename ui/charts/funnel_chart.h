// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/charts/painted_chart.h"

#include <vector>

namespace milehold::ui {

struct FunnelPoint {
    QString id;
    QString name;
    double size = 0; ///< what precision grows with: jobs, or expected comebacks
    double value = 0;
    bool outside = false; ///< outside the outer limits: named in the chart
};

/// One pair of limits as columns over `size`, ascending.
struct FunnelLimit {
    QString name; ///< `95 %`
    std::vector<double> size, lower, upper;
};

struct FunnelData {
    std::vector<FunnelPoint> points;
    std::vector<FunnelLimit> limits; ///< inner first
    double centre = 0;
    QString sizeName, valueName, centreName;
    bool percent = true;
};

/// Rates against their size within limits, so that a small number is not mistaken for a bad one.
class FunnelChart : public PaintedChart {
    Q_OBJECT
public:
    using PaintedChart::PaintedChart;
    void setData(FunnelData data);
    ChartTable asTable() const override;
    QSize sizeHint() const override { return {640, 400}; }
    QSize minimumSizeHint() const override { return {320, 240}; }

protected:
    void paintChart(QPainter& painter, const QRectF& rect, const Tokens& tokens, int current) const override;
    int markCount() const override;
    QString markId(int mark) const override;
    QString markText(int mark) const override;
    int markAt(const QPointF& at) const override;

private:
    FunnelData data_;
};

} // namespace milehold::ui
