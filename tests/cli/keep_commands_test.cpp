// SPDX-License-Identifier: GPL-3.0-or-later
// backup, restore and verify on the command line: copies on another disk, trials, and what is saved of a
// damaged shop.
#include "tests/cli/ask.h"

#include <fcntl.h>
#include <stdlib.h>
#include <sys/stat.h>

namespace milehold::cli {
namespace {

namespace fs = std::filesystem;

class KeepCommands : public ::testing::Test {
protected:
    void SetUp() override {
        std::string pattern = (fs::temp_directory_path() / "milehold-keep-XXXXXX").string();
        root_ = ::mkdtemp(pattern.data());
        const Answer made =
            askWith({"sample", shop(), "--jobs", "12", "--ends", "2031-05-16", "--format", "json"});
        ASSERT_EQ(made.code, 0) << made.err;
        jobs_ = made.json()["jobs"].get<double>();
    }
    void TearDown() override { fs::remove_all(root_); }
    std::string shop() const { return (root_ / "Corner.milehold").string(); }
    fs::path file() const { return fs::path(shop()) / "store" / "shop.db"; }

    fs::path root_;
    double jobs_ = 0;
};

TEST_F(KeepCommands, CopyABackupToAnotherDiskAndBringItBackWhereNothingIsLeft) {
    const fs::path stick = root_ / "stick";
    expectRefused(askWith({"backup", "--shop", shop(), "--to", stick.string()}), 2, "plugged in");
    fs::create_directory(stick);
    const Answer made = askWith({"backup", "--shop", shop(), "--to", stick.string()});
    ASSERT_EQ(made.code, 0) << made.err;
    EXPECT_NE(made.out.find("read back"), std::string::npos);
    EXPECT_NE(made.err.find("same disk"), std::string::npos);
    fs::remove_all(shop());
    const Answer back = askWith({"restore", "--shop", shop(), "--from", (stick / "Corner").string(),
                                 "--backup", "newest", "--format", "json"});
    ASSERT_EQ(back.code, 0) << back.err;
    EXPECT_EQ(back.json()["jobs"].get<double>(), jobs_);
    EXPECT_EQ(back.json()["replaced"], "");
    EXPECT_EQ(askWith({"verify", "--shop", shop()}).code, 0);
}

TEST_F(KeepCommands, TryARestoreWithoutTouchingTheShop) {
    const Answer tried = askWith({"restore", "--shop", shop(), "--backup", "newest", "--trial"});
    ASSERT_EQ(tried.code, 0) << tried.err;
    EXPECT_NE(tried.out.find("sound"), std::string::npos);
    expectRefused(askWith({"restore", "--shop", shop()}), 2, "--salvage");
    expectRefused(askWith({"restore", "--shop", shop(), "--backup", "newest", "--salvage"}), 2, "either");
}

TEST_F(KeepCommands, SaveWhatIsReadableOfADamagedShopAndKeepTheDamagedFile) {
    {
        std::fstream bytes(file(), std::ios::in | std::ios::out | std::ios::binary);
        bytes << std::string(100, '\0');
    }
    expectRefused(askWith({"verify", "--shop", shop()}), 2, "not a shop");
    const Answer saved = askWith({"restore", "--shop", shop(), "--salvage", "--format", "json"});
    ASSERT_EQ(saved.code, 0) << saved.err;
    const auto json = saved.json();
    EXPECT_EQ(json["change_log_aside"].get<double>(), 0);
    for (const auto& table : json["tables"]) {
        if (table["table"] == "job") {
            EXPECT_EQ(table["saved"].get<double>(), jobs_);
        }
    }
    EXPECT_TRUE(fs::exists(fs::path(shop()) / json["damaged"].get<std::string>() / "shop.db"));
    EXPECT_EQ(askWith({"verify", "--shop", shop()}).code, 0);
    expectRefused(askWith({"restore", "--shop", (root_ / "None.milehold").string(), "--salvage"}), 2,
                  "no shop's file");
}

TEST_F(KeepCommands, VerifySweepsFilesThatNobodyNamesWhenItIsTold) {
    const fs::path orphan = fs::path(shop()) / "store" / "attachments" / "ab" / ("ab" + std::string(62, '0'));
    fs::create_directories(orphan.parent_path());
    std::ofstream(orphan) << "left behind";
    const timespec times[2] = {{1'000'000'000, 0}, {1'000'000'000, 0}};
    ASSERT_EQ(::utimensat(AT_FDCWD, orphan.c_str(), times, 0), 0);
    EXPECT_EQ(askWith({"verify", "--shop", shop()}).code, 0);
    EXPECT_TRUE(fs::exists(orphan));
    const Answer swept = askWith({"verify", "--shop", shop(), "--sweep", "--format", "json"});
    ASSERT_EQ(swept.code, 0) << swept.err;
    EXPECT_EQ(swept.json()["swept"].get<double>(), 1);
    EXPECT_FALSE(fs::exists(orphan));
}

TEST_F(KeepCommands, WriteAFileForSupportThatNamesNobody) {
    const std::string file = (root_ / "support.json").string();
    expectRefused(askWith({"export", "support", "--shop", shop()}), 2, "--to is missing");
    expectRefused(askWith({"export", "jobs", "--shop", shop(), "--to", file}), 2, "support alone");
    expectRefused(askWith({"export", "support", "--shop", shop(), "--to", file, "--xlsx", file}), 2,
                  "neither");
    const Answer made = askWith({"export", "support", "--shop", shop(), "--to", file, "--format", "json"});
    ASSERT_EQ(made.code, 0) << made.err;
    EXPECT_EQ(fs::status(file).permissions() & fs::perms::all,
              fs::perms::owner_read | fs::perms::owner_write);
    expectRefused(askWith({"export", "support", "--shop", shop(), "--to", file}), 2, "exists");
    const Answer people = askWith({"export", "customers", "--shop", shop(), "--format", "csv"});
    std::ifstream in(file);
    double rows = 0;
    bool jobs = false;
    std::string all;
    for (std::string line; std::getline(in, line); all += line) {
        const auto json = nlohmann::json::parse(line);
        rows += json.is_array() ? 1 : 0;
        jobs = jobs || (json.is_object() && json.value("table", "") == "job" && json["rows"] == jobs_);
    }
    EXPECT_TRUE(jobs);
    EXPECT_EQ(made.json()["rows"].get<double>(), rows);
    // Not one name or telephone of the shop's customers.
    std::istringstream table(people.out);
    std::string line;
    std::getline(table, line);
    int looked = 0;
    while (std::getline(table, line)) {
        const auto from = line.find(',') + 1;
        const std::string name = line.substr(from, line.find(',', from) - from);
        ASSERT_GT(name.size(), 3U) << line;
        EXPECT_EQ(all.find(name), std::string::npos) << name;
        ++looked;
    }
    EXPECT_GT(looked, 3);
}

TEST_F(KeepCommands, NobodyWhoIsNotToBeCalledIsInAListOfCalls) {
    const auto calls = [this](const char* format) {
        return askWith({"calls", "--shop", shop(), "--today", "2031-05-16", "--people", "--format", format});
    };
    const auto before = calls("json").json();
    ASSERT_GT(before["calls"].size(), 1U);
    const auto first = before["calls"][0];
    const std::string name = first["customer"];
    const std::string phone = first["phones"][0];
    const std::string csv = (root_ / "customers.csv").string();
    ASSERT_EQ(askWith({"export", "customers", "--shop", shop(), "--csv", csv}).code, 0);
    std::ifstream in(csv);
    std::stringstream text;
    text << in.rdbuf();
    std::string table = text.str();
    const auto row = table.find(name);
    const auto flag = table.find(",no,", row);
    ASSERT_TRUE(row != std::string::npos && flag != std::string::npos);
    table.replace(flag, 4, ",yes,");
    std::ofstream(csv) << table;
    const Answer taken = askWith({"import", "customers", "--shop", shop(), "--csv", csv, "--update"});
    ASSERT_EQ(taken.code, 0) << taken.err;
    const Answer json = calls("json");
    EXPECT_LT(json.json()["may_be_called"].get<double>(), before["may_be_called"].get<double>());
    for (const auto& answer : {json, calls("csv"), calls("text")}) {
        EXPECT_EQ(answer.code, 0);
        EXPECT_EQ(answer.out.find(name), std::string::npos);
        EXPECT_EQ(answer.out.find(phone), std::string::npos);
    }
}

} // namespace
} // namespace milehold::cli
