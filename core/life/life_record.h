// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/life.h"
#include "core/shop/people.h"
#include "core/shop/shelf.h"

#include <functional>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace milehold::core {

/// A part that came from a known lot.
struct FittedLot {
    PartNumberId part;
    std::string lot; ///< never blank
    friend bool operator==(const FittedLot&, const FittedLot&) = default;
};

/// A life beside what curves are grouped and filtered by.
struct LifeRecord {
    Life life;
    std::int64_t jobNumber = 0;
    std::string repairOrder;
    std::optional<EngineFamilyId> family;
    std::optional<int> modelYear;
    std::optional<StaffId> technician;
    std::string calibration;         ///< on the engine computer after the repair
    std::vector<PartNumberId> parts; ///< fitted, distinct
    std::string vehicleLabel;        ///< maker, model and year: no owner, no plate
    std::vector<FittedLot> lots;     ///< of the parts whose lot was written down, distinct
    friend bool operator==(const LifeRecord&, const LifeRecord&) = default;
};

/// What facets read names from.
struct FacetNames {
    const Shelf& shelf;
    std::span<const Staff> staff;
};

/// A way to group curves. Adding one entry to the table in facet.cpp adds it to the Office and the command
/// line.
struct Facet {
    std::string_view id;    ///< stable, in files and options: `path`, `phaser-revision` ...
    std::string_view label; ///< English, sentence case
    /// The group's name; empty when the record does not say.
    std::string (*valueOf)(const LifeRecord& record, const FacetNames& names);
};
std::span<const Facet> facets();
const Facet* facetById(std::string_view id);

} // namespace milehold::core
