// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/life.h"
#include "tests/core/support/records.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <vector>

namespace milehold::core::testing_support {

inline RecordRef refTo(JobId id) {
    return {RecordRef::Kind::Job, id.uuid};
}
inline RecordRef refTo(FollowUpId id) {
    return {RecordRef::Kind::FollowUp, id.uuid};
}
inline RecordRef refTo(OdometerId id) {
    return {RecordRef::Kind::Odometer, id.uuid};
}

// The shop's own conventions: common practice, no published source. Distances in miles; job 1 is a repair
// delivered on 10 January 2030 at 40,000 miles, quiet at the delivery check, unless a test says otherwise.
class DerivedLife : public ::testing::Test {
protected:
    DerivedLife() {
        past.jobs = {repair(1, "2030-01-10", 40'000)};
        rules.defaultYearly = miles(12'000);
    }
    std::vector<Life> all() const {
        const auto lives = deriveLives(past, rules, today, &s.shelf);
        EXPECT_TRUE(lives);
        return lives.value_or(std::vector<Life>{});
    }
    Life first() const {
        const auto lives = all();
        return lives.empty() ? Life{} : lives.front();
    }
    bool isFrom(const RecordRef& source) const {
        const auto life = first();
        return std::find(life.sources.begin(), life.sources.end(), source) != life.sources.end();
    }

    SmallShelf s;
    VehicleHistory past = history();
    ShopSettings rules;
    Date today = day("2031-01-10");
};

} // namespace milehold::core::testing_support
