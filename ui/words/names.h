// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/shelf.h"

#include <QString>

namespace milehold::ui {

/// A part as people name it: number and revision, `LP-4410 C`.
QString partName(const core::PartNumber& part);

} // namespace milehold::ui
