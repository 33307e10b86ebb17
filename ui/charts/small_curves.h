// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/charts/curve_series.h"
#include "ui/charts/painted_chart.h"

#include <optional>

namespace milehold::ui {

struct SmallCurvesData {
    std::vector<CurveSeries> series;                     ///< one small curve each, in this order
    std::optional<CurveSeries> all;                      ///< drawn soft in every one of them, to compare with
    core::DistanceUnit unit = core::DistanceUnit::Miles; ///< of all mileages, and shown
    double horizon = 0;   ///< where the figure is read, a hairline marks it; 0: none
    double fewerThan = 5; ///< faint where fewer are watched
};

/// Many groups at a glance: one small curve each on the same axes, with its name, its counts and its chance
/// at the horizon. Where lines laid over each other could not be told apart any more.
class SmallCurves : public PaintedChart {
    Q_OBJECT
public:
    explicit SmallCurves(QWidget* parent = nullptr);
    void setData(SmallCurvesData given);
    ChartTable asTable() const override;
    bool hasHeightForWidth() const override { return true; }
    int heightForWidth(int width) const override;
    QSize sizeHint() const override { return {720, heightForWidth(720)}; }
    QSize minimumSizeHint() const override;

protected:
    void paintChart(QPainter& painter, const QRectF& rect, const Tokens& tokens, int current) const override;
    int markCount() const override;
    QString markId(int mark) const override;
    QString markText(int mark) const override;
    int markAt(const QPointF& at) const override;

private:
    QRectF cellOf(int mark, const QRectF& rect) const;
    QString figure(const CurveSeries& series) const;
    SmallCurvesData data_;
};

} // namespace milehold::ui
