// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/charts/axis.h"
#include "ui/charts/curve_series.h"
#include "ui/theme/tokens.h"

#include <QRectF>
#include <QString>
#include <QStringList>

#include <optional>
#include <vector>

class QPainter;

namespace milehold::ui {

/// What the chart shows besides its data.
struct CurveView {
    core::DistanceUnit unit = core::DistanceUnit::Miles; ///< on the axis
    bool watched = true;
    bool key = true;
    std::optional<double> mark;    ///< in the data's unit
    std::optional<double> readout; ///< the same
    QString markText;
    int current = -1; ///< the series with the keyboard, -1: none
};

/// Where everything of a curve chart lies, and how the parts around the lines are painted. Knows no
/// QCustomPlot.
class CurveFrame {
public:
    CurveFrame(const CurveData& data, const CurveView& view, const QRectF& rect, bool print);

    QRectF plot;               ///< the lines' own rectangle
    QRectF key;                ///< above it
    QRectF table;              ///< watched counts, below the axis
    Axis x;                    ///< mileage in the data's unit
    Axis y;                    ///< survival
    std::vector<double> marks; ///< of the axis, in the shown unit
    double toShown = 1;        ///< data's unit -> shown unit

    struct KeyEntry {
        QRectF rect;
        int series = 0;
        QString name, counts;
    };
    std::vector<KeyEntry> entries;

    struct LineLabel {
        QRectF rect;
        int series = 0;
        QStringList lines;   ///< one, or two where there is no room for one
        QPointF end;         ///< of the line
        bool inside = false; ///< under the end of the line, not past it
    };
    std::vector<LineLabel> labels; ///< only those that fit

    /// Which marks have room for a count in the watched table.
    std::vector<double> tableMarks() const;

    void paintUnder(QPainter& painter, const Tokens& tokens) const; ///< grid, axes, table, key
    void paintOver(QPainter& painter, const Tokens& tokens) const;  ///< line labels, mark
    void paintReadout(QPainter& painter, const Tokens& tokens) const;

private:
    void layKey(const QRectF& rect);
    void layLabels();
    void paintKey(QPainter& painter, const Tokens& tokens) const;
    void paintTable(QPainter& painter, const Tokens& tokens) const;

    const CurveData& data_;
    const CurveView& view_;
    bool print_;
    double nameWidth_ = 0;
};

/// A short piece of a series' line.
void paintLineSample(QPainter& painter, const QPointF& from, const QPointF& to, int look, Scheme scheme);

} // namespace milehold::ui
