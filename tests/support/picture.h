// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/theme/theme.h"

#include <QString>
#include <QWidget>

namespace milehold::tests {

/// Shows a widget at a size, paints it and keeps the picture as `pictures/NAME.png` of the build folder, for
/// eyes. Returns false when nothing was painted or the file could not be written.
bool keepPicture(QWidget& widget, const QString& name, QSize size, double scale = 1);

/// As keepPicture(), in light and dark at 1x and in light at 2x: NAME-light, NAME-dark, NAME-2x.
bool keepPictures(QWidget& widget, const QString& name, QSize size);

} // namespace milehold::tests
