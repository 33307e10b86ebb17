// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QString>

namespace milehold::ui {

/// The text with no figure parted from its % at the end of a line.
QString withSign(QString text);

} // namespace milehold::ui
