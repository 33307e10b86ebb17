// SPDX-License-Identifier: GPL-3.0-or-later
// The power fails behind every single file operation: what was told as saved is there, and nothing is half.
#include "tests/faults/children.h"
#include "tests/faults/power_cut_vfs.h"
#include "tests/faults/saver.h"
#include "tests/storage/support/shop_fixture.h"

#include <sqlite3.h>

#include <array>
#include <iostream>

namespace milehold::test {

namespace {

constexpr std::array kPatterns = {Survives::All, Survives::None, Survives::SomePages, Survives::TornLast};

struct Outcome {
    std::size_t images = 0;
    std::size_t corrupt = 0;
    std::size_t lost = 0; ///< images that lack a row which had been acknowledged
    std::size_t half = 0;
    std::size_t recovered = 0; ///< images with a journal that had to be played back
};

class ImageFile {
public:
    explicit ImageFile(const fs::path& file) {
        sqlite3_open_v2(file.c_str(), &handle_, SQLITE_OPEN_READWRITE, "unix");
    }
    ~ImageFile() { sqlite3_close(handle_); }
    ImageFile(const ImageFile&) = delete;
    ImageFile& operator=(const ImageFile&) = delete;
    /// -1: the query failed.
    std::int64_t number(const char* sql) const {
        sqlite3_stmt* statement = nullptr;
        std::int64_t result = -1;
        if (sqlite3_prepare_v2(handle_, sql, -1, &statement, nullptr) == SQLITE_OK &&
            sqlite3_step(statement) == SQLITE_ROW)
            result = sqlite3_column_int64(statement, 0);
        sqlite3_finalize(statement);
        return result;
    }
    bool isSound() const {
        return number("SELECT count(*) = 1 AND max(quick_check) = 'ok' FROM pragma_quick_check(1)") == 1;
    }

private:
    sqlite3* handle_ = nullptr;
};

/// Cuts the power behind every `stride`-th operation; `acknowledged[k]` operations had been done when row k +
/// 1 was acknowledged.
template <class Look>
Outcome cutEverywhere(const std::vector<std::size_t>& acknowledged, std::size_t stride, const fs::path& image,
                      const Look& look) {
    Outcome outcome;
    std::size_t told = 0;
    for (std::size_t after = 0; after <= PowerCutDisk::operations(); after += stride) {
        while (told < acknowledged.size() && acknowledged[told] <= after)
            ++told;
        for (const auto pattern : kPatterns) {
            PowerCutDisk::imageAfter(after, pattern, after * 4 + static_cast<std::size_t>(pattern), image);
            ++outcome.images;
            look(told, outcome);
        }
    }
    return outcome;
}

} // namespace

TEST(PowerCut, LosesNoAcknowledgedJobAndLeavesNoneHalf) {
    const TemporaryFolder temporary;
    const fs::path folder = temporary.path() / "Cut.milehold";
    const Bench bench = makeBenchShop(folder);
    PowerCutDisk::record(folder / "store");
    std::vector<std::size_t> acknowledged;
    {
        auto shop = storage::Shop::open(folder);
        ASSERT_OK(shop);
        for (int mark = 1; mark <= 22; ++mark) {
            ASSERT_OK((*shop)->jobs().save({benchJob(bench, mark), {}, {}}));
            acknowledged.push_back(PowerCutDisk::operations());
        }
    }
    PowerCutDisk::end();
    const fs::path image = temporary.path() / "image";
    const auto stride = static_cast<std::size_t>(timesFrom("MILEHOLD_CUT_STRIDE", 1));
    const auto outcome = cutEverywhere(acknowledged, stride, image, [&](std::size_t told, Outcome& all) {
        std::error_code none;
        const auto journal = fs::file_size(image / "shop.db-journal", none);
        all.recovered += !none && journal > 512 ? 1 : 0;
        const ImageFile file(image / "shop.db");
        const auto jobs = file.number("SELECT count(*) FROM job");
        all.corrupt += jobs < 0 || !file.isSound() ? 1 : 0;
        all.lost += jobs < static_cast<std::int64_t>(told) ? 1 : 0;
        all.half += file.number("SELECT count(*) FROM job_line") != jobs * kLinesAJob ||
                            file.number("SELECT count(*) FROM job_part") != jobs * kPartsAJob ||
                            file.number("SELECT count(*) FROM change_log WHERE table_name = 'job'") != jobs
                        ? 1
                        : 0;
    });
    std::cout << "power cut: " << PowerCutDisk::operations() << " operations x 4 patterns, " << outcome.images
              << " images (" << outcome.recovered << " with a journal): " << outcome.corrupt << " corrupt, "
              << outcome.lost << " lost an acknowledged job, " << outcome.half << " with half a job\n";
    EXPECT_EQ(outcome.corrupt, 0U);
    EXPECT_EQ(outcome.lost, 0U);
    EXPECT_EQ(outcome.half, 0U);
    EXPECT_GT(outcome.images, 10'000U / stride);
    EXPECT_GT(outcome.recovered, 50U / stride);
}

// The harness itself: with a write-ahead log and synchronous = NORMAL a commit is not durable when it returns
// (sqlite.org/pragma.html#pragma_synchronous), and these cuts must show it.
TEST(PowerCut, IsSeenToLoseWorkWhereTheEngineDoesNotPromiseIt) {
    const TemporaryFolder temporary;
    const fs::path store = temporary.path() / "store";
    fs::create_directory(store);
    PowerCutDisk::record(store);
    std::vector<std::size_t> acknowledged;
    sqlite3* handle = nullptr;
    ASSERT_EQ(sqlite3_open((store / "shop.db").c_str(), &handle), SQLITE_OK);
    const auto run = [&](const char* sql) {
        ASSERT_EQ(sqlite3_exec(handle, sql, nullptr, nullptr, nullptr), SQLITE_OK) << sql;
    };
    run("PRAGMA locking_mode = EXCLUSIVE");
    run("PRAGMA journal_mode = WAL");
    run("PRAGMA synchronous = NORMAL");
    run("CREATE TABLE job (id INTEGER PRIMARY KEY, text TEXT)");
    const auto begun = PowerCutDisk::operations();
    for (int i = 0; i < 60; ++i) {
        run("INSERT INTO job (text) VALUES ('rattles for two seconds after a night outside')");
        acknowledged.push_back(PowerCutDisk::operations());
    }
    sqlite3_close(handle);
    PowerCutDisk::end();
    const fs::path image = temporary.path() / "image";
    const auto outcome = cutEverywhere(acknowledged, 1, image, [&](std::size_t told, Outcome& all) {
        const ImageFile file(image / "shop.db");
        all.lost += file.number("SELECT count(*) FROM job") < static_cast<std::int64_t>(told) ? 1 : 0;
    });
    std::cout << "power cut, control (write-ahead log, synchronous = NORMAL): " << outcome.lost << " of "
              << outcome.images << " images lost an acknowledged row\n";
    EXPECT_GT(PowerCutDisk::operations(), begun + 60);
    EXPECT_GT(outcome.lost, 50U);
}

} // namespace milehold::test
