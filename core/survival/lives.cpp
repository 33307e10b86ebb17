// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/lives.h"

namespace milehold::core {

bool Lives::hasIntervals() const {
    for (std::size_t i = 0; i < until.size(); ++i)
        if (cameBack(i) && until[i] > miles[i]) return true;
    return false;
}

} // namespace milehold::core
