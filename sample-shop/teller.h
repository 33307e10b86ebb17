// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "sample-shop/job_sheet.h"
#include "sample-shop/story.h"

#include <algorithm>
#include <optional>
#include <vector>

namespace milehold::sample {

/// Tells one vehicle's story event by event.
class Teller {
public:
    Teller(const Catalogue& book, const SampleOptions& options, core::Customer& customer, bool inWork,
           Random& random)
        : book_(book), habit_(options.habit), customer_(customer), inWork_(inWork), random_(random) {}

    Story tell();

private:
    struct Watch { // one repair under observation
        core::JobId job;
        PathKey path = PathKey::CalibrationAlone;
        Day from = 0;
        double milesOut = 0;
        double life = 0; ///< real, in miles
        Day failed = kNever;
        Day returns = kNever;   ///< comes in with the noise
        Day elsewhere = kNever; ///< has it done by another shop
        Day replaced = kNever;  ///< the same components renewed here for another reason
        bool told = false;      ///< the shop has heard that the noise is back
    };

    void begin();
    void planEnd(Day first);
    PathKey choosePath(Day day, bool isReturn, PathKey last);
    PathKey wantedPath(Day day, bool isReturn, PathKey last);
    Watch watch(const Repair& repair, Day from);
    void follow(Watch& now);
    std::vector<Day> callDays(const Watch& now);
    std::vector<Day> visitDays(const Watch& now);
    /// False when the watch is over.
    bool call(Watch& now, Day day);
    void writeDown(core::JobId job, Day day, core::FollowUpOutcome outcome,
                   std::optional<core::Distance> odometer, Text note, bool estimated = false,
                   std::optional<core::Distance> since = {});
    void comeBack(const Watch& old, Day day);
    void decide(core::Job& job, const Watch& old, Day day);
    void fileClaim(core::Job& job, Day day);
    void log(core::Job job, Day day);
    SheetContext sheet() { return {book_, *family_, story_.vehicle, driving_, oil_, calibration_, random_}; }
    /// What the driver says the instrument shows: often a round number below it.
    core::Distance spoken(Day day);
    bool failedBy(const Watch& now, Day day) const { return day >= now.failed; }
    core::Distance failureReading(const Watch& now) const {
        return driving_.shown(now.milesOut + now.life, now.failed);
    }

    const Catalogue& book_;
    FollowUpHabit habit_;
    core::Customer& customer_;
    bool inWork_;
    Random& random_;
    Story story_;
    const FamilyKit* family_ = nullptr;
    Driving driving_;
    OilHabit oil_ = OilHabit::Good;
    std::size_t calibration_ = 0;
    bool visitor_ = false; ///< has everything else done here too
    Day sold_ = kNever, scrapped_ = kNever, lost_ = kNever;
    Day lastReading_ = 0;
    core::Distance lastShown_;
    std::optional<Watch> next_; ///< the repair that followed the one just told
};

} // namespace milehold::sample
