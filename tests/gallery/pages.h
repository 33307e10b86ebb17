// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/charts/curve_series.h"

class QWidget;

namespace milehold::gallery {

// One page each; the caller owns the widget.
QWidget* controlsPage();
QWidget* formPage();
QWidget* enginePage();
QWidget* tablePage();
QWidget* emptyPage();
QWidget* iconsPage();
QWidget* curvePage(int series, bool wide);
QWidget* chartsPage();
QWidget* windowPage();
QWidget* searchPage();
QWidget* menuPage();
QWidget* calendarPage();
QWidget* helpPage();
QWidget* keysPage();
QWidget* questionPage();
QWidget* listsPage();

/// Invented repair paths with lives drawn from Weibull distributions of a fixed seed.
ui::CurveData inventedCurves(int series);

} // namespace milehold::gallery
