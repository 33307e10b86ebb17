// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QString>

namespace milehold::ui {

/// The two limits of a share as whole percent, rounded outward: `84 %` for a lower 0.849, `97 %` for an upper
/// 0.961. The locale's digits, as shareText().
QString lowerShareText(double share);
QString upperShareText(double share);

} // namespace milehold::ui
