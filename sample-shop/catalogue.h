// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/people.h"
#include "core/shop/settings.h"
#include "core/shop/shelf.h"
#include "sample-shop/names.h"
#include "sample-shop/random.h"
#include "sample-shop/truth.h"

#include <array>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace milehold::sample {

/// Whole days since 1970-01-01: the clock of the simulation.
using Day = std::int64_t;

Day dayOf(core::Date date);
core::Date dateOf(Day day);
/// The same day, or the next one that is not a Saturday or Sunday.
Day workdayFrom(Day day);

/// One revision of a part with what the simulation needs to know of it.
struct RevisionKit {
    core::PartNumberId id;
    std::string_view number;
    std::string_view revision;
    Day introduced = 0;
    std::int64_t cost = 0;  ///< cents, what the shop pays
    std::int64_t price = 0; ///< cents, what the customer pays
};

/// All revisions of one part, oldest first; never empty.
struct PartKit {
    std::vector<RevisionKit> revisions;
    const RevisionKit& newest() const { return revisions.back(); }
    /// The newest that was to be had on that day, the oldest before there was any.
    const RevisionKit& on(Day day) const;
    /// The one before `on(day)`, when there is one: old stock.
    const RevisionKit& oldStockOn(Day day) const;
};

struct CalibrationKit {
    core::CalibrationId id;
    std::string code;
    Day released = 0;
};

/// An engine family with the vehicles it is built into.
struct FamilyKit {
    core::EngineFamilyId id;
    std::string_view maker;
    std::array<std::string_view, 3> models;
    std::string_view wmi; ///< invented: a leading zero is given to no region
    double weight = 1;    ///< share of the shop's vehicles
    int fromYear = 0;
    int toYear = 0;
    std::vector<core::Position> positions;
    std::array<CalibrationKit, 3> calibrations; ///< oldest first

    /// Index of the newest released by that day, 0 before the first.
    std::size_t calibrationOn(Day day) const;
};

/// The shelf of the sample shop, its people and rules, and the way from keys to ids.
struct Catalogue {
    core::Shelf shelf;
    core::ShopSettings settings;
    std::vector<core::Staff> staff;
    std::vector<FamilyKit> families; ///< in the order of kV6, kV8, kInline, kSingleCam
    std::array<core::RepairPathId, kPathCount> paths{};
    Day pathSince(PathKey key) const { return since[static_cast<std::size_t>(key)]; }
    std::array<Day, kPathCount> since{};
    PartKit intakePhaser, exhaustPhaser, screenedIntake, screenedExhaust, inlineIntake, inlineExhaust,
        singleCam;
    PartKit valve, chainSet, singleCamChain, tensioner, guides, seal, bolts, oil;
    std::vector<core::StaffId> technicians; ///< the last one has left
    std::vector<core::StaffId> advisors;
    core::StaffId owner;
    Day begin = 0; ///< first day of the book
    Day end = 0;   ///< last day of the book, "today"
};

inline constexpr std::size_t kV6 = 0;
inline constexpr std::size_t kV8 = 1;
inline constexpr std::size_t kInline = 2;
inline constexpr std::size_t kSingleCam = 3;
inline constexpr int kBookYears = 6;

/// Everything but vehicles and jobs. All dates are counted back from `endsOn`.
Catalogue makeCatalogue(core::Date endsOn, Random& random);

} // namespace milehold::sample
