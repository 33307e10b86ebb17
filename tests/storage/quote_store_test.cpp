// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/quote_store.h"
#include "tests/storage/support/shop_fixture.h"

namespace milehold::test {

using core::ErrorCode;

class KeptQuotes : public ShopTest {
protected:
    storage::QuoteStore quotes() { return storage::QuoteStore(shop()); }
    core::GivenQuote told() const {
        core::GivenQuote quote;
        quote.vehicle = vehicle.id;
        quote.path = path.id;
        quote.date = day(2031, 4, 1);
        quote.by = technician.id;
        quote.horizon = core::Distance::miles(24'000);
        quote.chance = 871'234;
        quote.lower = 700'000;
        quote.upper = 960'001;
        quote.worst = 140'000;
        quote.lives = 40;
        quote.comebacks = 2;
        quote.yearly = core::Distance::miles(12'000);
        quote.price = core::Money{148'000};
        quote.sentence = oddText();
        return quote;
    }
};

TEST_F(KeptQuotes, ReadsBackWhatWasKept) {
    const auto kept = quotes().save(told());
    ASSERT_OK(kept);
    EXPECT_EQ(kept->revision, 1);
    core::GivenQuote expected = told();
    expected.id = kept->id;
    expected.revision = 1;
    EXPECT_HOLDS(quotes().find(kept->id), expected);
    reopen();
    EXPECT_HOLDS(quotes().ofVehicle(vehicle.id), std::vector<core::GivenQuote>{expected});
    EXPECT_HOLDS(quotes().all(), std::vector<core::GivenQuote>{expected});
    EXPECT_EQ(shop().changeLog().of("given_quote", kept->id.uuid)->size(), 1U);
    ASSERT_OK(quotes().remove(kept->id, 1));
    EXPECT_TRUE(quotes().all()->empty());
}

TEST_F(KeptQuotes, KeepsTheSameWordsOfOneDayOnce) {
    const auto kept = quotes().save(told());
    ASSERT_OK(kept);
    EXPECT_HOLDS(quotes().save(told()), *kept);
    core::GivenQuote other = told();
    other.horizon = core::Distance::miles(36'000);
    ASSERT_OK(quotes().save(other));
    EXPECT_EQ(quotes().all()->size(), 2U);
}

TEST_F(KeptQuotes, BelongsToTheOneRepairThatIsInWork) {
    core::Job work = finishedJob();
    work.delivered.reset();
    const core::Job inWork = saved(work);
    EXPECT_EQ(quotes().save(told())->job, std::optional(inWork.id));
    core::Job second = finishedJob();
    second.delivered.reset();
    saved(second);
    core::GivenQuote later = told();
    later.date = day(2031, 4, 2);
    EXPECT_EQ(quotes().save(later)->job, std::nullopt) << "which of the two nobody knows";
    // A job that is taken back leaves its quote behind.
    ASSERT_OK(shop().jobs().remove(inWork.id, inWork.revision));
    EXPECT_EQ(quotes().all()->front().job, std::nullopt);
    EXPECT_TRUE(shop().verify(storage::CheckDepth::Full)->sound());
}

TEST_F(KeptQuotes, RefusesWhatIsNoQuote) {
    const auto refuses = [&](auto change) {
        core::GivenQuote wrong = told();
        change(wrong);
        const auto kept = quotes().save(wrong);
        return !kept && kept.error().code == ErrorCode::InvalidInput;
    };
    EXPECT_TRUE(refuses([](auto& q) { q.vehicle = {}; }));
    EXPECT_TRUE(refuses([](auto& q) { q.path = {}; }));
    EXPECT_TRUE(refuses([](auto& q) { q.date = core::Date{}; }));
    EXPECT_TRUE(refuses([](auto& q) { q.horizon = {}; }));
    EXPECT_TRUE(refuses([](auto& q) { q.chance = 1'000'001; }));
    EXPECT_TRUE(refuses([](auto& q) { q.chance = 600'000; })) << "below its lower limit";
    EXPECT_TRUE(refuses([](auto& q) { q.comebacks = 41; }));
    EXPECT_TRUE(refuses([](auto& q) { q.sentence = ""; }));
    EXPECT_FALSE(refuses([](auto&) {}));
}

} // namespace milehold::test
