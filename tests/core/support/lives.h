// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/life.h"
#include "tests/core/support/records.h"

#include <optional>
#include <vector>

namespace milehold::core::testing_support {

inline Distance km(std::int64_t count) {
    return Distance::kilometres(count);
}

/// A life that holds, known quiet to `known` and unseen since for `unseen`.
inline Life openLife(std::uint8_t number, Distance known, Distance unseen = Distance()) {
    Life life;
    life.job = job(number);
    life.vehicle = key<VehicleId>(number);
    life.known = known;
    life.unseen = unseen;
    return life;
}

inline Life lostLife(std::uint8_t number, Distance known, Distance unseen, LostReason reason) {
    Life life = openLife(number, known, unseen);
    life.state = LifeState::LostSight;
    life.lostReason = reason;
    return life;
}

/// One that came back at `known`, or in (known, until].
inline Life failedLife(std::uint8_t number, Distance known, std::optional<Distance> until = std::nullopt) {
    Life life = openLife(number, known);
    life.state = LifeState::CameBack;
    life.until = until;
    return life;
}

} // namespace milehold::core::testing_support
