// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"
#include "storage/shop.h"

namespace milehold::storage {

class Session;

/// Structure, references, the shop's own rules across records, and the chain of the change log.
/// Errors: when a check could not be made; what it finds stands in the report.
core::Result<CheckReport> fullCheck(Session& session);
core::Result<CheckReport> quickCheck(Session& session);

} // namespace milehold::storage
