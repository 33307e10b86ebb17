// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <qnamespace.h>

namespace milehold::ui {

/// Item data roles that our models give beyond Qt's. DisplayRole is text by the locale.
enum ItemRole : int {
    kSortRole = Qt::UserRole + 1, ///< the raw value; a model without it is sorted by its text
    kIdRole,                      ///< the record's key as text: breaks ties and finds a row again
    kStatusRole,                  ///< a Status, painted by StatusDelegate
    kBadgeRole,                   ///< an EngineBadge, painted by EngineBadgeDelegate
    kSoftRole,                    ///< true: painted in the ink of notes
};

} // namespace milehold::ui
