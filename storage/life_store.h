// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/life_record.h"
#include "core/result.h"

#include <vector>

namespace milehold::storage {

class Session;

/// Derives lives from the stored records. Nothing here is kept: what comes back is what the records say
/// today.
class LifeStore {
public:
    explicit LifeStore(Session& session) : session_(session) {}

    /// The lives of every vehicle, vehicle by vehicle; `today` decides what is lost sight of and unseen.
    core::Result<std::vector<core::LifeRecord>> records(core::Date today) const;
    core::Result<std::vector<core::LifeRecord>> recordsOf(core::VehicleId vehicle, core::Date today) const;

private:
    Session& session_;
};

} // namespace milehold::storage
