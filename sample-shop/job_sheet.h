// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "sample-shop/driving.h"
#include "sample-shop/sentences.h"
#include "sample-shop/story.h"

namespace milehold::sample {

enum class OilHabit : std::uint8_t { Good, Late, Never };

/// What a job sheet of the sample is filled from.
struct SheetContext {
    const Catalogue& book;
    const FamilyKit& family;
    const core::Vehicle& vehicle;
    const Driving& driving;
    OilHabit oil = OilHabit::Good;
    std::size_t calibration = 0; ///< generation on the engine computer now
    Random& random;
};

/// The wording and measuring half of a repair: what was found, fitted, charged.
struct RepairPlan {
    PathKey path = PathKey::CalibrationAlone;
    Day writtenUp = 0;
    core::ConcernGroup concern = core::ConcernGroup::StartupRattle;
    bool isReturn = false; ///< the same concern again after a repair here
    bool reliable = false; ///< every delivery check is done and right
};

/// A finished repair and what it will really live.
struct Repair {
    core::Job job;
    LifeTruth truth;
    double milesOut = 0; ///< really run, at delivery
    Day delivered = 0;
    std::size_t calibration = 0; ///< generation left on the engine computer
};

/// Fills the whole sheet of a repair; a repair that would be delivered after the book's end stays in work.
Repair doRepair(const SheetContext& context, const RepairPlan& plan);

/// A visit for anything else, done in a day.
core::Job doVisit(const SheetContext& context, Day day);

/// A repair that another shop did: little is known of it.
Repair repairElsewhere(const SheetContext& context, PathKey path, Day delivered, Day firstSeen);

} // namespace milehold::sample
