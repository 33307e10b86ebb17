// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/charts/painted_chart.h"

#include <optional>
#include <vector>

namespace milehold::ui {

struct BarPart {
    double value = 0;
    int look = 0; ///< number of its colour, see seriesLook(); the same number is the same part in all bars
};

struct BarRow {
    QString id;
    QString name;
    std::vector<BarPart> parts;         ///< stacked; one for a plain bar
    std::optional<double> lower, upper; ///< limits of the whole
    QString figure;                     ///< at the end of the bar, as text
    bool needsYou = false;              ///< amber mark beside the name
};

struct BarData {
    std::vector<BarRow> rows;
    QStringList partNames; ///< by look; shown as a key when there is more than one
    QString axisName;
    std::optional<double> mark; ///< a line across all bars
    QString markName;
    bool percent = false;
    std::optional<double> most; ///< end of the axis; else the largest value
};

/// Bars that lie, one a row, so that long names can be read.
class BarChart : public PaintedChart {
    Q_OBJECT
public:
    using PaintedChart::PaintedChart;
    void setData(BarData data);
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
    BarData data_;
};

} // namespace milehold::ui
