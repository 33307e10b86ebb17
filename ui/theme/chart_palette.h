// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/theme/tokens.h"

#include <QVector>

namespace milehold::ui {

/// How one series of a chart is drawn: a colour that stays apart from the others for readers with any colour
/// vision, and a dash pattern that tells it apart without colour.
struct SeriesLook {
    QColor colour;
    QVector<double> dash; ///< in pen widths, empty: a full line
};

inline constexpr int kSeriesLooks = 8;

/// Look number `index` (taken modulo kSeriesLooks) for a scheme. On paper all are near black, grey and
/// dashed.
SeriesLook seriesLook(int index, Scheme scheme);

} // namespace milehold::ui
