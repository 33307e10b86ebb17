// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/cli/shop_input.h"
#include "tests/cli/ask.h"

namespace milehold::cli {

/// The invented shop, written once for the tests of a suite.
class WithSampleShop : public testing::Test {
protected:
    static constexpr const char* kToday = "2031-06-30";

    static void SetUpTestSuite() {
        folder() = std::filesystem::temp_directory_path() /
                   ("milehold-cli-shop-" + std::to_string(::getpid()) + ".milehold");
        std::filesystem::remove_all(folder());
        const Answer written =
            askWith({"sample", "--jobs", "120", "--seed", "7", "--ends", kToday, folder().string()});
        ASSERT_EQ(written.code, 0) << written.err;
    }
    static void TearDownTestSuite() { std::filesystem::remove_all(folder()); }

    static std::filesystem::path& folder() {
        static std::filesystem::path path;
        return path;
    }

    /// `milehold-cli COMMAND --shop ... --today ...` and more words.
    static Answer askShop(const std::string& command, std::vector<std::string> words,
                          const std::string& format = "json") {
        std::vector<std::string> all = {command,    "--shop", folder().string(), "--today", kToday,
                                        "--format", format};
        all.insert(all.end(), words.begin(), words.end());
        return askWith(all);
    }

    /// The shop itself, to look at or to change.
    static void inShop(const std::function<core::Result<void>(storage::Shop&)>& work) {
        const auto done = withShop({folder().string(), kToday}, work);
        ASSERT_TRUE(done) << done.error().detail;
    }
};

} // namespace milehold::cli
