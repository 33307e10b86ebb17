// SPDX-License-Identifier: GPL-3.0-or-later
// backup, restore and verify on the command line: copies on another disk, trials, and what is saved of a damaged shop.
#include "tests/cli/ask.h"

#include <stdlib.h>

namespace milehold::cli {
namespace {

namespace fs = std::filesystem;

class KeepCommands : public ::testing::Test {
protected:
    void SetUp() override {
        std::string pattern = (fs::temp_directory_path() / "milehold-keep-XXXXXX").string();
        root_ = ::mkdtemp(pattern.data());
        const Answer made = askWith({"sample", shop(), "--jobs", "12", "--ends", "2031-05-16", "--format", "json"});
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
    const Answer back = askWith({"restore", "--shop", shop(), "--from", (stick / "Corner").string(), "--backup", "newest",
                                 "--format", "json"});
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
    expectRefused(askWith({"restore", "--shop", (root_ / "None.milehold").string(), "--salvage"}), 2, "no shop's file");
}

} // namespace
} // namespace milehold::cli
