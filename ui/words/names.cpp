// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/words/names.h"

#include "core/shop/names.h"
#include "ui/widgets/text.h"

namespace milehold::ui {

QString partName(const core::PartNumber& part) {
    return toText(core::partLabel(part));
}

} // namespace milehold::ui
