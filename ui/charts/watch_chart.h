// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/charts/painted_chart.h"

#include <QDate>

#include <vector>

namespace milehold::ui {

/// A running sum over days, as a share of its own limit: 1 is where it warns.
struct WatchLine {
    QString id;
    QString name;
    QString spoken; ///< one sentence about it
    QDate from;     ///< day 0
    std::vector<double> day, share;
    bool warns = false;
};

struct WatchData {
    std::vector<WatchLine> lines;
    QString valueName, limitName;
};

/// Lines that climb when more comes back than is to be expected, under the line where one is warned.
class WatchChart : public PaintedChart {
    Q_OBJECT
public:
    using PaintedChart::PaintedChart;
    void setData(WatchData data);
    ChartTable asTable() const override;
    QSize sizeHint() const override { return {720, 400}; }
    QSize minimumSizeHint() const override { return {320, 240}; }

protected:
    void paintChart(QPainter& painter, const QRectF& rect, const Tokens& tokens, int current) const override;
    int markCount() const override;
    QString markId(int mark) const override;
    QString markText(int mark) const override;
    int markAt(const QPointF& at) const override;

private:
    WatchData data_;
};

} // namespace milehold::ui
