// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/words/names.h"

#include "ui/widgets/text.h"

namespace milehold::ui {

QString partName(const core::PartNumber& part) {
    const QString number = toText(part.number);
    return part.revisionLabel.empty() ? number : number + u' ' + toText(part.revisionLabel);
}

} // namespace milehold::ui
