// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/id.h"

namespace milehold::storage {

/// A new random UUID (RFC 4122, version 4).
core::Uuid makeUuid();

/// `makeId<core::JobId>()`: a key made before the save, so that a save whose outcome is unknown can be looked
/// up.
template <class IdType> IdType makeId() {
    return IdType{makeUuid()};
}

} // namespace milehold::storage
