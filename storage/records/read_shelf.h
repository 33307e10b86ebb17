// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"
#include "core/shop/shelf.h"

#include <memory>

namespace milehold::storage {

class Session;

/// The whole shelf, each list by name, notes in the order in which they were written.
core::Result<core::Shelf> readShelf(Session& session);
/// The same, read once in a unit of work however many records it saves.
core::Result<std::shared_ptr<const core::Shelf>> shelfOfUnit(Session& session);

} // namespace milehold::storage
