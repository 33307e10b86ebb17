// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/life.h"
#include "core/quantity/distance.h"
#include "core/shop/finding.h"
#include "core/shop/job.h"
#include "core/shop/shelf.h"
#include "core/shop/trouble_code.h"
#include "core/shop/vehicle.h"

#include <optional>
#include <span>
#include <string_view>
#include <type_traits>

namespace milehold::core {

enum class QuoteStrength : std::uint8_t;

/// One value of an enum: the stable code that files and tables hold, and the English label that screens show.
/// A code never changes once a shop file may hold it; a label may.
template <class E> struct Label {
    E value;
    std::string_view code;  ///< lower case, hyphens, e.g. `startup-rattle`
    std::string_view label; ///< sentence case, e.g. `Start-up rattle`
};

/// All values of an enum in the order in which screens list them.
template <class E> std::span<const Label<E>> labelsOf() = delete;

template <> std::span<const Label<DistanceUnit>> labelsOf();
template <> std::span<const Label<Severity>> labelsOf();
template <> std::span<const Label<CamRole>> labelsOf();
template <> std::span<const Label<JobKind>> labelsOf();
template <> std::span<const Label<ConcernGroup>> labelsOf();
template <> std::span<const Label<DeliveryCheck>> labelsOf();
template <> std::span<const Label<OilLevel>> labelsOf();
template <> std::span<const Label<OilCondition>> labelsOf();
template <> std::span<const Label<ComebackDecision>> labelsOf();
template <> std::span<const Label<Payer>> labelsOf();
template <> std::span<const Label<ClaimState>> labelsOf();
template <> std::span<const Label<FollowUpOutcome>> labelsOf();
template <> std::span<const Label<Component>> labelsOf();
template <> std::span<const Label<ShelfSubject>> labelsOf();
template <> std::span<const Label<OdometerSource>> labelsOf();
template <> std::span<const Label<TroubleClass>> labelsOf();
template <> std::span<const Label<LifeState>> labelsOf();
template <> std::span<const Label<OtherEnd>> labelsOf();
template <> std::span<const Label<LostReason>> labelsOf();
template <> std::span<const Label<YearlySource>> labelsOf();
template <> std::span<const Label<Reading>> labelsOf();
template <> std::span<const Label<RecordRef::Kind>> labelsOf();
template <> std::span<const Label<QuoteStrength>> labelsOf();

/// The stable code of a value.
template <class E>
requires std::is_enum_v<E> std::string_view toCode(E value) {
    for (const auto& label : labelsOf<E>())
        if (label.value == value)
            return label.code;
    return {};
}

/// The English label of a value.
template <class E>
requires std::is_enum_v<E> std::string_view labelOf(E value) {
    for (const auto& label : labelsOf<E>())
        if (label.value == value)
            return label.label;
    return {};
}

/// `fromCode<JobKind>("repair")`; empty for a code that is none of this enum.
template <class E>
requires std::is_enum_v<E> std::optional<E> fromCode(std::string_view code) {
    for (const auto& label : labelsOf<E>())
        if (label.code == code)
            return label.value;
    return std::nullopt;
}

/// `mi` or `km`: how a unit is written after a number.
std::string_view shortName(DistanceUnit unit);

} // namespace milehold::core
