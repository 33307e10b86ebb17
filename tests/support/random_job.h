// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/job.h"
#include "core/shop/people.h"
#include "core/shop/vehicle.h"

#include <cstdint>
#include <random>
#include <string>
#include <vector>

namespace milehold::tests {

core::Uuid uuidOf(std::uint8_t number);
template <class IdType> IdType idOf(std::uint8_t number) {
    return IdType{uuidOf(number)};
}

/// A record of which no member has its default, and none equals that of another `seed`.
core::Job jobWithEverything(int seed);
core::Vehicle vehicleWithEverything(int seed);
core::Customer customerWithEverything(int seed);

/// Seeded random jobs: plausible values beside odd ones (line breaks, very long text, keys that nothing has,
/// negative and huge numbers), so that a form is tried on what a database may hold.
class RandomJobs {
public:
    explicit RandomJobs(std::uint32_t seed) : engine_(seed) {}
    core::Job job();
    core::Vehicle vehicle();
    core::Customer customer();

private:
    int below(int bound) { return static_cast<int>(engine_() % static_cast<std::uint32_t>(bound)); }
    bool maybe() { return below(2) == 0; }
    std::string text();
    core::Date date();
    core::Distance distance();
    core::Money money();
    std::vector<std::string> texts();
    template <class IdType> std::optional<IdType> id() {
        return maybe() ? std::optional(idOf<IdType>(static_cast<std::uint8_t>(1 + below(9)))) : std::nullopt;
    }

    std::mt19937 engine_;
};

} // namespace milehold::tests
