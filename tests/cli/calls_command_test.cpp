// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/shop_records.h"
#include "core/life/calls.h"
#include "storage/change_log.h"
#include "storage/customer_store.h"
#include "storage/exchange/exchange_store.h"
#include "storage/follow_up_store.h"
#include "storage/vehicle_store.h"
#include "tests/cli/sample_folder.h"

namespace milehold::cli {
namespace {

class CallsCommand : public WithSampleShop {
protected:
    static std::vector<core::Customer> everybody() {
        std::vector<core::Customer> all;
        inShop([&](storage::Shop& shop) {
            return shop.exchange().eachCustomer([&](const core::Customer& one) { all.push_back(one); });
        });
        return all;
    }
    static bool names(const std::string& text, const core::Customer& customer) {
        if (text.find(customer.name) != std::string::npos)
            return true;
        for (const std::string& phone : customer.phones)
            if (text.find(phone) != std::string::npos)
                return true;
        return false;
    }
};

TEST_F(CallsCommand, ListsTheCallsInTheOrderOfTheirWorth) {
    std::vector<core::RankedCall> ranked;
    inShop([&](storage::Shop& shop) -> core::Result<void> {
        const auto records = readShopRecords(shop, {folder().string(), kToday});
        if (!records)
            return core::failureOf(records);
        const auto facts = shop.followUps().callFacts(records->today);
        if (!facts)
            return core::failureOf(facts);
        core::CallOptions options;
        options.today = records->today;
        auto calls = core::rankCalls(records->lives, *facts, records->names(), options);
        if (!calls)
            return core::failureOf(calls);
        ranked = std::move(*calls);
        return {};
    });
    const Answer answer = askShop("calls", {"--most", "12"});
    ASSERT_EQ(answer.code, 0) << answer.err;
    const auto json = answer.json();
    EXPECT_EQ(json["may_be_called"], ranked.size());
    ASSERT_EQ(json["calls"].size(), 12U);
    double before = HUGE_VAL;
    for (std::size_t i = 0; i < 12; ++i) {
        EXPECT_EQ(json["calls"][i]["reason"], ranked[i].reason);
        EXPECT_EQ(json["calls"][i]["worth_a_minute"], ranked[i].worthAMinute);
        EXPECT_LE(json["calls"][i]["worth_a_minute"].get<double>(), before);
        before = json["calls"][i]["worth_a_minute"];
    }
}

TEST_F(CallsCommand, LeavesPeopleOutOfWhatOtherProgramsReadUnlessTheyAreAskedFor) {
    const auto people = everybody();
    ASSERT_GT(people.size(), 10U);
    for (const char* format : {"json", "csv"}) {
        const Answer without = askShop("calls", {}, format);
        const Answer with = askShop("calls", {"--people"}, format);
        ASSERT_EQ(without.code, 0) << without.err;
        ASSERT_EQ(with.code, 0) << with.err;
        int named = 0;
        for (const core::Customer& customer : people) {
            EXPECT_FALSE(names(without.out, customer)) << format;
            named += names(with.out, customer) ? 1 : 0;
        }
        EXPECT_GT(named, 5) << format;
    }
    // The shop's own list is for whoever makes the call.
    int named = 0;
    const Answer text = askShop("calls", {}, "text");
    for (const core::Customer& customer : people)
        named += names(text.out, customer) ? 1 : 0;
    EXPECT_GT(named, 5);
}

TEST_F(CallsCommand, NotesInTheChangeLogThatPeopleLeftTheShop) {
    const auto newest = [] {
        storage::Change change;
        inShop([&](storage::Shop& shop) -> core::Result<void> {
            const auto changes = shop.changeLog().newest(1);
            if (!changes)
                return core::failureOf(changes);
            change = changes->at(0);
            return {};
        });
        return change;
    };
    const auto before = newest();
    ASSERT_EQ(askShop("calls", {"--most", "3"}).code, 0);
    EXPECT_EQ(newest().sequence, before.sequence);
    ASSERT_EQ(askShop("calls", {"--most", "3", "--people"}).code, 0);
    const auto after = newest();
    EXPECT_EQ(after.sequence, before.sequence + 1);
    EXPECT_EQ(after.action, storage::ChangeAction::Export);
    EXPECT_EQ(after.table, "calls");
    EXPECT_EQ(after.fields.at(0).after, "3");
    EXPECT_EQ(askWith({"verify", "--shop", folder().string()}).code, 0);
}

TEST_F(CallsCommand, NeverListsWhoDoesNotWantToBeCalled) {
    const auto jobsOf = [](const nlohmann::json& calls, const std::string& customer) {
        int jobs = 0;
        for (const auto& call : calls)
            jobs += call["customer"] == customer ? 1 : 0;
        return jobs;
    };
    const auto before = askShop("calls", {"--most", "1000", "--people"}).json()["calls"];
    const std::string wanted = before[0]["customer"];
    ASSERT_GT(jobsOf(before, wanted), 0);
    inShop([&](storage::Shop& shop) -> core::Result<void> {
        std::vector<core::Customer> found;
        if (const auto read = shop.exchange().eachCustomer([&](const core::Customer& one) {
                if (one.name == wanted)
                    found.push_back(one);
            });
            !read)
            return read;
        for (core::Customer customer : found) {
            customer.doNotCall = true;
            if (const auto saved = shop.customers().save(customer); !saved)
                return core::failureOf(saved);
        }
        return {};
    });
    const auto after = askShop("calls", {"--most", "1000", "--people"}).json()["calls"];
    EXPECT_EQ(jobsOf(after, wanted), 0);
    EXPECT_EQ(after.size(), before.size() - static_cast<std::size_t>(jobsOf(before, wanted)));
}

TEST_F(CallsCommand, RefusesInWords) {
    expectRefused(askShop("calls", {"--most", "0"}), 2, "--most");
    expectRefused(askShop("calls", {"--most", "2.5"}), 2, "--most");
    expectRefused(askShop("calls", {"--horizon", "-1"}), 2, "--horizon");
    expectRefused(askWith({"calls", "--shop", "/nowhere.milehold"}), 2, "/nowhere.milehold");
}

} // namespace
} // namespace milehold::cli
