// SPDX-License-Identifier: GPL-3.0-or-later
// Commands that read a shop's own records: warranty, evidence, funnel, early warning.
#include "app/cli/shop_records.h"
#include "core/life/evidence.h"
#include "core/report/owner_review.h"
#include "core/shop/comeback.h"
#include "storage/life_store.h"
#include "storage/vehicle_store.h"
#include "tests/cli/sample_folder.h"

#include <map>
#include <set>

namespace milehold::cli {
namespace {

using nlohmann::json;

class ShopCommands : public WithSampleShop {
protected:
    static json groupNamed(const json& answer, const std::string& name) {
        for (const auto& group : answer["groups"])
            if (group["group"] == name)
                return group;
        ADD_FAILURE() << "no group " << name;
        return {};
    }
};

// The same lives as a table, with the yearly miles of the vehicles as an option, must say the same.
TEST_F(ShopCommands, WarrantyReadsDriversAndLivesFromTheRecords) {
    std::string drivers;
    inShop([&](storage::Shop& shop) -> core::Result<void> {
        const auto records = readShopRecords(shop, {folder().string(), kToday});
        if (!records)
            return core::failureOf(records);
        std::map<core::VehicleId, double> yearly;
        for (const auto& record : records->lives)
            yearly[record.life.vehicle] = record.life.yearly.perYear.in(core::DistanceUnit::Miles);
        for (const auto& [vehicle, miles] : yearly) {
            char text[40];
            (void)std::snprintf(text, sizeof text, "%.17g", miles);
            drivers += (drivers.empty() ? "" : ",") + std::string(text);
        }
        return {};
    });
    const Answer exported = askWith({"export", "lives", "--shop", folder().string(), "--today", kToday});
    ASSERT_EQ(exported.code, 0) << exported.err;
    const std::vector<std::string> terms = {"--months", "24", "--miles", "24000"};
    const Answer byShop = askShop("warranty", terms);
    ASSERT_EQ(byShop.code, 0) << byShop.err;
    std::vector<std::string> words = {"warranty", "--yearly-miles", drivers};
    words.insert(words.end(), terms.begin(), terms.end());
    const Answer byTable = ask(exported.out, words);
    ASSERT_EQ(byTable.code, 0) << byTable.err;
    const json shop = byShop.json(), table = byTable.json();
    ASSERT_EQ(shop["groups"].size(), table["groups"].size());
    EXPECT_EQ(shop["drivers"], table["drivers"]);
    int fitted = 0;
    for (const auto& group : shop["groups"]) {
        const json other = groupNamed(table, group["group"]);
        if (group.contains("error")) {
            EXPECT_EQ(group["error"], other["error"]);
            continue;
        }
        ++fitted;
        for (const char* end : {"value", "lower", "upper"})
            EXPECT_NEAR(group["share"][end].get<double>(), other["share"][end].get<double>(), 1e-9);
        EXPECT_LE(group["share"]["lower"], group["share"]["value"]);
        EXPECT_GE(group["share"]["upper"], group["share"]["value"]);
    }
    EXPECT_GT(fitted, 2);
}

TEST_F(ShopCommands, WarrantyTakesTheMeanCostOnRecordAndSaysNothingWhereThereIsNone) {
    // Mean cost of the comebacks of each path, gathered vehicle by vehicle.
    std::map<std::string, std::pair<double, int>> costs;
    inShop([&](storage::Shop& shop) -> core::Result<void> {
        const auto records = readShopRecords(shop, {folder().string(), kToday});
        if (!records)
            return core::failureOf(records);
        for (const auto& record : records->lives) {
            if (!record.life.cameBack())
                continue;
            const auto history = shop.vehicles().history(record.life.vehicle);
            if (!history)
                return core::failureOf(history);
            double sum = 0;
            for (const core::Job& job : history->jobs)
                if (!job.isVoid() && job.comebackOf == record.life.job &&
                    core::countsAsComeback(job.comebackDecision))
                    sum += static_cast<double>(job.comebackTotal().minor) / 100;
            if (sum == 0)
                continue;
            const auto* path = records->shelf.find(*record.life.path);
            costs[path->name].first += sum;
            costs[path->name].second += 1;
        }
        return {};
    });
    ASSERT_GT(costs.size(), 2U);
    const json answer = askShop("warranty", {"--months", "24", "--miles", "24000", "--jobs", "50"}).json();
    for (const auto& group : answer["groups"]) {
        const auto cost = costs.find(group["group"].get<std::string>());
        if (cost == costs.end()) {
            EXPECT_TRUE(group["cost_each"].is_null());
            EXPECT_TRUE(!group.contains("share") || group["expected_cost"].is_null());
            continue;
        }
        const double each = cost->second.first / cost->second.second;
        EXPECT_NEAR(group["cost_each"].get<double>(), each, 1e-9);
        if (!group.contains("share"))
            continue;
        const double share = group["share"]["value"];
        EXPECT_NEAR(group["cost_a_job"]["value"].get<double>(), share * each, 1e-9);
        EXPECT_NEAR(group["expected_cost"]["value"].get<double>(), 50 * share * each, 1e-7);
    }
}

TEST_F(ShopCommands, EvidenceSaysWhatCoreSaysOfAllRepairs) {
    std::vector<core::Life> lives;
    inShop([&](storage::Shop& shop) -> core::Result<void> {
        const auto records = readShopRecords(shop, {folder().string(), kToday});
        if (!records)
            return core::failureOf(records);
        for (const auto& record : records->lives)
            lives.push_back(record.life);
        return {};
    });
    const auto all = core::evidenceOf(lives, core::DistanceUnit::Miles, core::Distance::miles(40'000));
    ASSERT_TRUE(all);
    const Answer answer =
        askShop("evidence", {"--horizon", "40000", "--at", "10000,20000", "--claim", "0.9"});
    ASSERT_EQ(answer.code, 0) << answer.err;
    double known = 0, unseen = 0;
    int curves = 0;
    const json groups = answer.json()["groups"];
    for (const auto& group : groups) {
        known += group["known"].get<double>();
        unseen += group["unseen"]["all"].get<double>();
        const double here = group["known"], notSeen = group["unseen"]["all"];
        if (!group["completeness"].is_null()) {
            EXPECT_NEAR(group["completeness"].get<double>(), here / (here + notSeen), 1e-12);
        }
        for (const auto& point : group["at"]) {
            if (point["known"].is_null())
                continue;
            ++curves;
            EXPECT_GE(point["best"].get<double>(), point["known"].get<double>() - 1e-12);
            EXPECT_GE(point["known"].get<double>(), point["worst"].get<double>() - 1e-12);
        }
    }
    EXPECT_NEAR(known, all->known, 1e-6);
    EXPECT_NEAR(unseen, all->unseen.all(), 1e-6);
    EXPECT_GT(curves, 4);
    expectRefused(askShop("evidence", {"--claim", "0.9"}), 2, "--horizon");
    expectRefused(askShop("evidence", {"--by", "colour"}), 2, "--by");
}

TEST_F(ShopCommands, TheFunnelOfTheShopIsByPerson) {
    const json answer = askShop("funnel", {}).json();
    EXPECT_EQ(answer["expected_by"], "path") << "who gets the hard jobs is not blamed for them";
    EXPECT_EQ(askShop("funnel", {"--stratum-by", "engine"}).json()["expected_by"], "engine");
    EXPECT_TRUE(askShop("funnel", {"--by", "path"}).json()["expected_by"].is_null());
    double observed = 0, expected = 0;
    ASSERT_GT(answer["groups"].size(), 2U);
    for (const auto& group : answer["groups"]) {
        observed += group["observed"].get<double>();
        expected += group["expected"].get<double>();
        EXPECT_LT(group["lower_99.8"], 1);
        EXPECT_GT(group["upper_99.8"], 1);
        EXPECT_LE(group["lower_99.8"], group["lower_95"]);
        EXPECT_GE(group["upper_99.8"], group["upper_95"]);
    }
    EXPECT_NEAR(observed, expected, 1e-9 * observed);
}

// Comebacks that nobody heard begin, and repairs that were done elsewhere and first seen later, are in the
// shop.
TEST_F(ShopCommands, ATableOfItsLivesGivesTheShopsOwnFigures) {
    const Answer exported = askWith({"export", "lives", "--shop", folder().string(), "--today", kToday});
    ASSERT_EQ(exported.code, 0) << exported.err;
    std::istringstream lines(exported.out);
    int intervals = 0;
    for (std::string line; std::getline(lines, line);) {
        const std::size_t comma = line.find(',', line.find(',') + 1);
        intervals += line.find("came-back") != std::string::npos && line[comma + 1] != ',';
    }
    ASSERT_GT(intervals, 5) << "comebacks with a last quiet mileage";
    const std::vector<std::vector<std::string>> questions = {
        {"curve", "--at", "10000,30000", "--given", "10000"},
        {"curve", "--estimator", "kaplan-meier", "--limits", "log-log"},
        {"compare"},
        {"ends", "--at", "20000"},
        {"fit", "--at", "20000"},
        {"factors", "--terms", "engine,repeat", "--cluster"},
        {"pooled", "--at", "20000"},
        {"funnel", "--by", "path"},
    };
    for (const auto& question : questions) {
        const std::vector<std::string> rest(question.begin() + 1, question.end());
        const Answer byShop = askShop(question[0], rest);
        ASSERT_EQ(byShop.code, 0) << question[0] << byShop.err;
        std::vector<std::string> words = question;
        if (question[0] == "funnel")
            words = {"funnel"};
        const Answer byTable = ask(exported.out, words);
        ASSERT_EQ(byTable.code, 0) << question[0] << byTable.err;
        EXPECT_EQ(byShop.out, byTable.out) << question[0];
    }
    EXPECT_EQ(askShop("curve", {}).json()["estimator"], "kaplan-meier");
}

// One function of core behind both: every part as the Office has it.
TEST_F(ShopCommands, EarlyWarningWatchesThePartsAsTheOfficeDoes) {
    for (const std::string by : {"part", "lot"}) {
        core::Result<std::vector<core::WatchedPart>> office;
        inShop([&](storage::Shop& shop) -> core::Result<void> {
            const auto records = readShopRecords(shop, {folder().string(), kToday});
            if (!records)
                return core::failureOf(records);
            office = (by == "lot" ? core::reviewLots : core::reviewParts)(records->lives, records->shelf,
                                                                          records->today, {});
            return {};
        });
        ASSERT_TRUE(office);
        const Answer answer = askShop("early-warning", {"--by", by});
        if (office->empty()) {
            expectRefused(answer, 1, "none is watched");
            continue;
        }
        ASSERT_EQ(answer.code, 0) << answer.err;
        const json groups = answer.json()["groups"];
        ASSERT_EQ(groups.size(), office->size());
        for (std::size_t i = 0; i < groups.size(); ++i) {
            const core::WatchedPart& part = (*office)[i];
            EXPECT_EQ(groups[i]["group"], part.name);
            EXPECT_EQ(groups[i]["jobs"], part.repairs);
            EXPECT_EQ(groups[i]["comebacks"], part.comebacks);
            EXPECT_EQ(groups[i]["expected"].get<double>(), part.expected);
            EXPECT_EQ(groups[i]["limit"].get<double>(), part.limit);
            EXPECT_EQ(groups[i]["alarm"].is_null(), !part.alarmOn.has_value());
            EXPECT_EQ(groups[i]["points"].back()["value"].get<double>(), part.points.back().value);
            EXPECT_EQ(groups[i]["points"].back()["day"], kToday);
        }
        if (by == "part") {
            EXPECT_EQ(askShop("early-warning", {}).out, answer.out) << "what it does unless asked otherwise";
        }
    }
}

// The lives as a table, repairs with phasers alone, give each phaser the Office's figure.
TEST_F(ShopCommands, EarlyWarningOfATableOfItsLivesIsTheOfficesFigure) {
    std::map<std::string, core::WatchedPart> office;
    double lastDay = 0;
    inShop([&](storage::Shop& shop) -> core::Result<void> {
        const auto records = readShopRecords(shop, {folder().string(), kToday});
        if (!records)
            return core::failureOf(records);
        core::Date first = records->today;
        for (const auto& record : records->lives)
            first = std::min(first, record.life.repairedOn);
        lastDay = static_cast<double>(core::daysBetween(first, records->today));
        const auto parts = core::reviewParts(records->lives, records->shelf, records->today);
        if (!parts)
            return core::failureOf(parts);
        for (const auto& part : *parts)
            office[part.name] = part;
        return {};
    });
    const Answer exported = askWith({"export", "lives", "--shop", folder().string(), "--today", kToday,
                                     "--by", "phaser-revision", "--days"});
    ASSERT_EQ(exported.code, 0) << exported.err;
    std::istringstream lines(exported.out);
    std::string table, line;
    while (std::getline(lines, line)) {
        std::size_t group = 0;
        for (int comma = 0; comma < 4; ++comma)
            group = line.find(',', group) + 1;
        if (line.compare(group, 13, "not recorded,") != 0)
            table += line + "\n";
    }
    const Answer answer = ask(table, {"early-warning", "--last-day", std::to_string(lastDay)});
    ASSERT_EQ(answer.code, 0) << answer.err;
    int compared = 0;
    const json groups = answer.json()["groups"];
    for (const auto& group : groups) {
        // Phasers of both banks or both cams are fitted together: "LP-4410 C + LP-4420 C" is either.
        const std::string name = group["group"];
        const auto part = office.find(name.substr(0, name.find(" + ")));
        if (part == office.end() || group.contains("error") || group["jobs"] != part->second.repairs)
            continue;
        ++compared;
        EXPECT_EQ(group["jobs"], part->second.repairs) << part->first;
        EXPECT_EQ(group["comebacks"], part->second.comebacks) << part->first;
        EXPECT_NEAR(group["expected"].get<double>(), part->second.expected, 1e-9) << part->first;
        EXPECT_NEAR(group["limit"].get<double>(), part->second.limit, 1e-9) << part->first;
        EXPECT_EQ(group["alarm"].is_null(), !part->second.alarmOn.has_value()) << part->first;
    }
    EXPECT_GE(compared, 2);
    expectRefused(ask(table, {"early-warning", "--last-day", "1"}), 2, "--last-day");
    expectRefused(askShop("early-warning", {"--last-day", "1"}), 2, "--today");
}

TEST_F(ShopCommands, AnOptionThatIsNotRightIsNamed) {
    expectRefused(askShop("curve", {"--by", "colour"}), 2,
                  "--by: 'colour' is no facet; expected one of path");
    expectRefused(askShop("compare", {"--stratum", "--stratum-by", "hue"}), 2, "--stratum-by: 'hue'");
    expectRefused(askShop("quote", {"--family", "Tarvick T6 3.3", "--year", "20200"}), 2, "--year: '20200'");
}

TEST_F(ShopCommands, EarlyWarningSpeaksInDatesOfTheShop) {
    const Answer answer = askShop("early-warning", {"--by", "path", "--runs", "200"});
    ASSERT_EQ(answer.code, 0) << answer.err;
    int drawn = 0;
    const json groups = answer.json()["groups"];
    for (const auto& group : groups) {
        if (group.contains("error"))
            continue;
        ++drawn;
        for (const auto& point : group["points"]) {
            EXPECT_TRUE(core::dateFromIso(point["day"].get<std::string>()));
            EXPECT_LE(point["value"], group["highest"]);
        }
        EXPECT_EQ(group["alarm"].is_null(), group["highest"] <= group["limit"]);
    }
    EXPECT_GT(drawn, 2);
}

} // namespace
} // namespace milehold::cli
