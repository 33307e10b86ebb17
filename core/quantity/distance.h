// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <compare>
#include <cstdint>

namespace milehold::core {

enum class DistanceUnit : std::uint8_t { Miles, Kilometres };

/// A distance in whole metres. A mile is 1,609.344 m exactly (international yard and pound agreement, 1959),
/// so whole miles and whole kilometres both come back exactly as they were typed.
class Distance {
public:
    constexpr Distance() = default;
    static constexpr Distance fromMetres(std::int64_t metres) { return Distance(metres); }
    /// Largest whole number of miles or kilometres that a Distance is made from.
    static constexpr std::int64_t kMost = 1'000'000'000;
    /// Whole miles or kilometres, |count| <= kMost.
    static constexpr Distance from(std::int64_t count, DistanceUnit unit) {
        if (unit == DistanceUnit::Kilometres)
            return Distance(count * 1000);
        const std::int64_t thousandths = count * 1'609'344;
        return Distance((thousandths + (count < 0 ? -500 : 500)) / 1000);
    }
    static constexpr Distance miles(std::int64_t count) { return from(count, DistanceUnit::Miles); }
    static constexpr Distance kilometres(std::int64_t count) { return from(count, DistanceUnit::Kilometres); }

    constexpr std::int64_t metres() const { return metres_; }
    /// Nearest whole number of units; the inverse of from().
    constexpr std::int64_t whole(DistanceUnit unit) const {
        const std::int64_t half = metres_ < 0 ? -1 : 1;
        if (unit == DistanceUnit::Kilometres)
            return (metres_ + half * 500) / 1000;
        return (metres_ * 1000 + half * 804'672) / 1'609'344;
    }
    /// As a real number of units, for curves and charts.
    constexpr double in(DistanceUnit unit) const {
        return static_cast<double>(metres_) / (unit == DistanceUnit::Kilometres ? 1000.0 : 1609.344);
    }

    constexpr Distance operator+(Distance other) const { return Distance(metres_ + other.metres_); }
    constexpr Distance operator-(Distance other) const { return Distance(metres_ - other.metres_); }
    friend constexpr auto operator<=>(Distance, Distance) = default;

private:
    explicit constexpr Distance(std::int64_t metres) : metres_(metres) {}
    std::int64_t metres_ = 0;
};

} // namespace milehold::core
