// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QColor>
#include <QIcon>
#include <QString>
#include <QStringList>

class QPainter;
class QRectF;

namespace milehold::ui {

/// A line icon of ours from resources/icons, by its file's name without `.svg`. It takes the colours in force
/// when it is painted: ink, faint when disabled, accent when active, and the colour of text on a filled
/// button when selected. A name without a file is a defect: it asserts, and paints a crossed box.
QIcon icon(const QString& name);

enum class IconTone { Ink, Soft, Accent, Amber, Danger };
/// The same, in another of the theme's inks while it is enabled.
QIcon icon(const QString& name, IconTone tone);

/// Every name that there is.
QStringList iconNames();

/// The same drawing in any colour, sharp at any size.
void paintIcon(QPainter& painter, const QRectF& rect, const QString& name, const QColor& colour);

} // namespace milehold::ui
