// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QString>

namespace milehold::ui {

/// Something that runs behind the window.
struct BackgroundWork {
    int id = 0;
    QString text;      ///< `Copying the shop's book`
    double share = -1; ///< 0 to 1, negative while the length is not known
    bool cancellable = false;
};

} // namespace milehold::ui
