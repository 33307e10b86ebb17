// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quote/quote.h"
#include "tests/core/support/records.h"

#include <gtest/gtest.h>

#include <vector>

namespace milehold::core::testing_support {

class QuoteOfAPath : public ::testing::Test {
protected:
    QuoteOfAPath() {
        subject.family = s.family;
        subject.modelYear = 2022;
        subject.yearly = {miles(12'000), YearlySource::Readings, 5};
        options.dataDate = day("2031-04-09");
        s.shelf.paths.resize(1); // the phasers alone, unless a test asks for more
    }
    /// A repair known quiet to `knownMiles`, or that came back there.
    LifeRecord& add(std::int64_t knownMiles, LifeState state = LifeState::Holding,
                    std::int64_t unseenMiles = 0) {
        LifeRecord record;
        const auto number = static_cast<std::uint8_t>(lives.size() + 1);
        record.life.job = job(number);
        record.life.vehicle = key<VehicleId>(number);
        record.life.path = s.phasers;
        record.life.state = state;
        record.life.known = miles(knownMiles);
        record.life.unseen = miles(unseenMiles);
        record.family = s.family;
        lives.push_back(record);
        return lives.back();
    }
    void addMany(int count, std::int64_t knownMiles, LifeState state = LifeState::Holding) {
        for (int i = 0; i < count; ++i)
            add(knownMiles, state);
    }
    Quote make() const {
        const auto quote = makeQuote(lives, subject, s.shelf, settings, options);
        EXPECT_TRUE(quote);
        return quote.value_or(Quote{});
    }
    PathQuote first() const {
        const auto quote = make();
        return quote.paths.empty() ? PathQuote{} : quote.paths.front();
    }

    SmallShelf s;
    ShopSettings settings;
    QuoteSubject subject;
    QuoteOptions options;
    std::vector<LifeRecord> lives;
};

} // namespace milehold::core::testing_support
