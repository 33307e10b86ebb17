// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/charts/chart_table.h"
#include "ui/charts/curve_series.h"
#include "ui/theme/tokens.h"

#include <QWidget>

#include <memory>

class QPainter;

namespace milehold::ui {

/// The chart that the program is about: how many repairs are still quiet after so many miles.
///
/// Step lines with their limits as bands, the watched counts aligned under the axis, names at the line ends
/// where they fit, faint where few are watched, nothing past the last watched mileage but a dashed
/// projection. The pointer, or the Left and Right keys (Shift: in big steps), reads all lines at one mileage;
/// a click or Return asks for the records behind the nearest line; Up and Down choose the line.
class CurveChart : public QWidget {
    Q_OBJECT
public:
    explicit CurveChart(QWidget* parent = nullptr);
    ~CurveChart() override;

    void setData(CurveData data);
    const CurveData& data() const;

    /// Unit on the axis and in the readout; the data stay as they are.
    void setUnit(core::DistanceUnit unit);
    core::DistanceUnit unit() const;
    /// Hides the table or the key; both are shown unless told otherwise.
    void setWatchedShown(bool shown);
    void setKeyShown(bool shown);
    /// A mark across the chart with a word: the shop's warranty, a driver's next year. Empty takes it away.
    void setMark(std::optional<double> miles, const QString& text = {});

    /// The whole chart as vectors into a rectangle, with the print theme: for QPdfWriter or a printer.
    void paintVector(QPainter& painter, const QRectF& rect) const;

    /// Watched, survival and limits of each series at the marks of the axis.
    ChartTable asTable() const;
    /// Mileage that the readout stands at, in the data's unit.
    std::optional<double> readout() const;
    void setReadout(std::optional<double> miles);

    /// Where a point of a series is drawn in this widget; for tests and for overlays.
    QPointF pixelOf(double miles, double survival) const;

    QSize sizeHint() const override { return {900, 520}; }
    QSize minimumSizeHint() const override { return {360, 280}; }

signals:
    void seriesClicked(const QString& seriesId, double miles); ///< miles in the data's unit

protected:
    void paintEvent(QPaintEvent* event) override;
    void resizeEvent(QResizeEvent* event) override;
    void mouseMoveEvent(QMouseEvent* event) override;
    void mousePressEvent(QMouseEvent* event) override;
    void leaveEvent(QEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;
    void focusInEvent(QFocusEvent* event) override;
    void focusOutEvent(QFocusEvent* event) override;
    void changeEvent(QEvent* event) override;

private:
    class Impl;
    std::unique_ptr<Impl> impl_;
};

} // namespace milehold::ui
