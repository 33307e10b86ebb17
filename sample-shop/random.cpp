// SPDX-License-Identifier: GPL-3.0-or-later
#include "sample-shop/random.h"

namespace milehold::sample {

core::Uuid Random::uuid() {
    core::Uuid uuid;
    for (std::size_t half = 0; half < 2; ++half) {
        std::uint64_t bits = engine_();
        for (std::size_t i = 0; i < 8; ++i, bits >>= 8U)
            uuid.bytes[half * 8 + i] = static_cast<std::uint8_t>(bits & 0xffU);
    }
    uuid.bytes[6] = static_cast<std::uint8_t>((uuid.bytes[6] & 0x0fU) | 0x40U); // version 4
    uuid.bytes[8] = static_cast<std::uint8_t>((uuid.bytes[8] & 0x3fU) | 0x80U); // variant of RFC 4122
    return uuid;
}

std::uint64_t streamSeed(std::uint64_t seed, std::uint64_t index) {
    std::uint64_t z = seed * 0x9e3779b97f4a7c15ULL + (index + 1) * 0xd1342543de82ef95ULL;
    z = (z ^ (z >> 30U)) * 0xbf58476d1ce4e5b9ULL;
    z = (z ^ (z >> 27U)) * 0x94d049bb133111ebULL;
    return z ^ (z >> 31U);
}

} // namespace milehold::sample
