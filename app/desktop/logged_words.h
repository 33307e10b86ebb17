// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quantity/distance.h"
#include "core/shop/people.h"
#include "core/shop/settings.h"
#include "core/shop/shelf.h"

#include <QString>

#include <functional>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace milehold::app {

/// What the fields of the change log are worded with, for the history of a record and for a conflict alike.
struct LoggedWords {
    std::shared_ptr<const core::Shelf> shelf;
    std::vector<core::Staff> staff;
    core::ShopSettings settings;
    core::DistanceUnit unit = core::DistanceUnit::Miles;
    QString betweenEntries = QStringLiteral("; "); ///< between the entries of a list
};

/// What to say of a key that neither staff nor shelf bears: the field it stands in, the key.
using OtherKeyWord = std::function<QString(std::string_view field, const core::Uuid& key)>;

/// `Odometer out` for `odometer_out`.
QString fieldWord(std::string_view column);

/// A field's text as the change log and storage::fieldTexts() keep it, in words: metres in the shop's unit,
/// minor units as money, ISO dates by the locale, keys by name, lists entry by entry.
QString loggedValueWord(std::string_view field, const std::string& text, const LoggedWords& words,
                        const OtherKeyWord& otherKey);

} // namespace milehold::app
