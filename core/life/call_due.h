// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/calls.h"

#include <cstdint>
#include <span>
#include <vector>

namespace milehold::core {

/// What makes a call due, in the order of screens.
enum class DueKind : std::uint8_t { Promised, Days30, Months6, Months12, Months24, Distance };

/// A mark that a repair has passed since its known quiet distance was last read, or the day on which its
/// customer asked to be called.
struct CallDue {
    DueKind kind = DueKind::Days30;
    Date on;     ///< for Distance estimated by the yearly distance
    Distance at; ///< Distance only: since the repair
    friend bool operator==(const CallDue&, const CallDue&) = default;
};

/// The marks that are due: the last of 30 days, 6, 12 and 24 months after the repair that has passed unseen,
/// and the last distance that it has passed unseen by estimate. At most one of each. Source: common practice,
/// no published source.
std::vector<CallDue> dueMarks(const Life& life, DistanceUnit unit, Date today);
/// The distances at which a call is due, in order.
std::span<const Distance> dueDistances(DistanceUnit unit);

/// A ranked call with what makes it due.
struct DueCall {
    RankedCall call;
    std::vector<CallDue> due; ///< in the order of DueKind
    Distance unseen;
};
/// Keeps the order; a call about a life that is not among them has no marks but a promised day.
std::vector<DueCall> withDueMarks(std::vector<RankedCall> ranked, std::span<const LifeRecord> lives,
                                  DistanceUnit unit, Date today);

/// What part of the ranked calls is looked at, and in which order.
struct CallView {
    enum class Show : std::uint8_t { All, Due, Days30, Months6, Months12, Months24, Distance, Warranty };
    enum class Order : std::uint8_t { Worth, DueFirst, WarrantyFirst, Unseen };
    Show show = Show::All;
    Order order = Order::Worth;
    friend bool operator==(const CallView&, const CallView&) = default;
};
/// The calls of a view; among equal ones the rank stays. By worth, those promised come first: a word that was
/// given is kept whatever it teaches, and it says nothing about the vehicle.
std::vector<DueCall> pickCalls(std::span<const DueCall> ranked, const CallView& view);

} // namespace milehold::core
