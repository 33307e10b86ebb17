// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/life_record.h"
#include "tests/core/support/lives.h"

#include <rapidcheck.h>

#include <algorithm>
#include <cstddef>
#include <vector>

namespace milehold::core::testing_support {

template <class T> T oneOf(std::initializer_list<T> values) {
    return *(values.begin() +
             *rc::gen::inRange<std::ptrdiff_t>(0, static_cast<std::ptrdiff_t>(values.size())));
}

inline bool flip() {
    return *rc::gen::arbitrary<bool>();
}

/// The same records in another order.
template <class T> void shuffle(std::vector<T>& records) {
    for (std::size_t i = records.size(); i > 1; --i)
        std::swap(records[i - 1], records[*rc::gen::inRange<std::size_t>(0, i)]);
}

/// A vehicle's history whose odometer never falls: one thing after the other happens to it, the first a
/// repair.
inline VehicleHistory anyHistory() {
    VehicleHistory past = history();
    past.doNotCall = *rc::gen::inRange(0, 10) == 0;
    std::int64_t run = 20'000;
    Date today = day("2026-01-05");
    std::vector<std::uint8_t> repairs;
    const int happenings = *rc::gen::inRange(1, 12);
    for (int i = 0; i < happenings; ++i) {
        const auto number = static_cast<std::uint8_t>(i + 1);
        const std::string on = toIso(today);
        const int kind = i == 0 ? 0 : *rc::gen::inRange(0, 9);
        if (kind <= 1) {
            Job made = repair(number, on, run);
            made.kind = *rc::gen::inRange(0, 6) == 0 ? JobKind::Elsewhere : JobKind::Repair;
            if (made.kind == JobKind::Elsewhere && flip())
                made.firstSeen = miles(run + *rc::gen::inRange(0, 4'000));
            made.deliveryCheck = oneOf(
                {DeliveryCheck::Quiet, DeliveryCheck::Quiet, DeliveryCheck::NotDone, DeliveryCheck::Noisy});
            made.concernGroup =
                oneOf({ConcernGroup::StartupRattle, ConcernGroup::StartupRattle, ConcernGroup::OilLeak});
            if (flip())
                made.path = key<RepairPathId>(2);
            if (!repairs.empty() && flip())
                made.comebackOf = job(repairs.back());
            made.comebackDecision =
                made.comebackOf ? oneOf({ComebackDecision::None, ComebackDecision::SameConcern,
                                         ComebackDecision::Unrelated, ComebackDecision::NotReproduced})
                                : ComebackDecision::None;
            if (*rc::gen::inRange(0, 12) == 0 && i > 0)
                made.voidReason = "typed twice";
            past.jobs.push_back(made);
            repairs.push_back(number);
        } else if (kind <= 3) {
            past.jobs.push_back(visit(number, on, run));
            if (flip())
                past.jobs.back().concernGroup = ConcernGroup::StartupRattle;
        } else if (kind <= 7) {
            const auto outcome =
                oneOf({FollowUpOutcome::Quiet, FollowUpOutcome::Quiet, FollowUpOutcome::Quiet,
                       FollowUpOutcome::NoiseBack, FollowUpOutcome::NoAnswer, FollowUpOutcome::CallLater,
                       FollowUpOutcome::Sold, FollowUpOutcome::Scrapped, FollowUpOutcome::RepairedElsewhere,
                       FollowUpOutcome::DoNotCall});
            FollowUp told =
                heard(number, repairs[*rc::gen::inRange<std::size_t>(0, repairs.size())], on, outcome);
            if (flip())
                told.odometer = miles(run);
            told.odometerEstimated = told.odometer && *rc::gen::inRange(0, 4) == 0;
            if (outcome == FollowUpOutcome::NoiseBack && flip())
                told.noiseSince = miles(run - *rc::gen::inRange(0, 3'000));
            past.followUps.push_back(told);
        } else {
            past.odometers.push_back(reading(number, on, run));
        }
        run += *rc::gen::inRange(0, 9'000);
        today = addDays(today, *rc::gen::inRange(0, 260));
    }
    return past;
}

/// A life in any state, in kilometres, some watched late, some known only to an interval.
inline Life anyLife(std::uint8_t number) {
    Life life = openLife(number, km(*rc::gen::inRange(0, 60)));
    if (*rc::gen::inRange(0, 4) == 0)
        life.entry = km(*rc::gen::inRange(1, 30));
    switch (*rc::gen::inRange(0, 5)) {
    case 0:
        life.state = LifeState::CameBack;
        if (flip())
            life.until = life.known + km(*rc::gen::inRange(1, 30));
        break;
    case 1:
        life.state = LifeState::EndedOtherwise;
        life.otherEnd = oneOf({OtherEnd::Scrapped, OtherEnd::Replaced});
        break;
    case 2:
        life.state = LifeState::LostSight;
        [[fallthrough]];
    default:
        life.unseen = km(flip() ? *rc::gen::inRange(0, 50) : 0);
    }
    life.contributes = life.cameBack() && life.until ? life.known >= life.entry
                                                     : life.known > life.entry || life.entry == Distance();
    if (life.contributes && life.entry == Distance() && life.known == Distance() && !life.cameBack())
        life.contributes = flip();
    return life;
}

inline std::vector<Life> anyLives() {
    std::vector<Life> lives;
    const int count = *rc::gen::inRange(1, 30);
    for (int i = 0; i < count; ++i)
        lives.push_back(anyLife(static_cast<std::uint8_t>(i + 1)));
    return lives;
}

} // namespace milehold::core::testing_support
