// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/charts/curve_frame.h"
#include "ui/charts/curve_series.h"
#include "ui/theme/tokens.h"

#include <memory>

class QPainter;

namespace milehold::ui {

/// The lines and bands of a curve chart. QCustomPlot draws them, since it thins a million steps to what the
/// eye can see and keeps them right; nothing of it shows outside this class.
class CurveLines {
public:
    CurveLines();
    ~CurveLines();

    /// Into the frame's plot as pixels, from the picture of last time unless setStale() was called or the
    /// size is another. `ratio`: device pixels per pixel.
    void paint(QPainter& painter, const CurveData& data, const CurveView& view, const CurveFrame& frame,
               const Tokens& tokens, double ratio);
    /// As vectors.
    void paintVectors(QPainter& painter, const CurveData& data, const CurveView& view,
                      const CurveFrame& frame, const Tokens& tokens);
    /// Data, view or colours have changed.
    void setStale();

private:
    class Plot;
    std::unique_ptr<Plot> plot_;
};

} // namespace milehold::ui
