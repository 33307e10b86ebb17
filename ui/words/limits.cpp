// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/words/limits.h"

#include "core/quote/words.h"
#include "ui/widgets/text.h"

namespace milehold::ui {

QString lowerShareText(double share) {
    return shareText(static_cast<double>(core::percentDown(share)) / 100);
}

QString upperShareText(double share) {
    return shareText(static_cast<double>(core::percentUp(share)) / 100);
}

} // namespace milehold::ui
