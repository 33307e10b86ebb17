// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/charts/painted_chart.h"

#include <optional>
#include <vector>

namespace milehold::ui {

/// One estimate with its limits.
struct ForestRow {
    QString id;
    QString name;
    QString counts;                     ///< `9 of 124`
    std::optional<double> estimate;     ///< empty: not estimable; `why` says the reason
    std::optional<double> lower, upper; ///< an empty side runs off the chart
    double weight = 1;                  ///< size of the mark
    QString why;
    bool heading = false; ///< a group's name, no estimate
    bool summary = false; ///< drawn as a diamond
};

struct ForestData {
    std::vector<ForestRow> rows;
    QString estimateName;    ///< over the figures: `Hazard ratio (95 %)`
    QString axisName;        ///< under the axis
    double reference = 1;    ///< the line of no difference
    bool logarithmic = true; ///< for ratios
    int decimals = 2;
    bool percent = false;      ///< shares: axis and figures in per cent
    QString lowSide, highSide; ///< what lies left and right of the reference
};

/// Estimates with limits, one row each, figures beside them.
class ForestPlot : public PaintedChart {
    Q_OBJECT
public:
    using PaintedChart::PaintedChart;
    void setData(ForestData data);
    ChartTable asTable() const override;
    QSize sizeHint() const override;
    QSize minimumSizeHint() const override;

protected:
    void paintChart(QPainter& painter, const QRectF& rect, const Tokens& tokens, int current) const override;
    int markCount() const override;
    QString markId(int mark) const override;
    QString markText(int mark) const override;
    int markAt(const QPointF& at) const override;

private:
    QString figures(const ForestRow& row) const;
    ForestData data_;
};

} // namespace milehold::ui
