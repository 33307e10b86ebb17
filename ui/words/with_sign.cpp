// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/words/with_sign.h"

namespace milehold::ui {

QString withSign(QString text) {
    return text.replace(QStringLiteral(" %"), QStringLiteral("\u00a0%"));
}

} // namespace milehold::ui
