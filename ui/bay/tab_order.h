// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QList>

class QWidget;

namespace milehold::ui {

/// Where Tab stops below `root`: top to bottom and left to right through its layouts, what is visible and
/// enabled. A widget that hands the keyboard on to a child of its own is one stop. Qt's own chain follows the
/// order in which widgets were made, and visits such widgets twice.
QList<QWidget*> tabStops(QWidget* root);

/// Moves the keyboard from stop to stop, and out of `root` at its ends.
bool focusNextStop(QWidget* root, bool next);

} // namespace milehold::ui
