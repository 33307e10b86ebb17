// SPDX-License-Identifier: GPL-3.0-or-later
// Damaged files: thousands of random ones, and those that somebody would think of. None ends the program,
// none keeps it waiting, none is written to.
#include "storage/backup_shelf.h"
#include "tests/faults/children.h"
#include "tests/faults/saver.h"
#include "tests/storage/support/shop_fixture.h"

#include <chrono>
#include <csignal>
#include <fstream>
#include <iostream>
#include <random>
#include <sys/mman.h>
#include <sys/wait.h>
#include <unistd.h>

namespace milehold::test {

namespace {

enum class Mutation { FlipBit, SetByte, ZeroRange, RandomRange, SwapPages, Truncate, Grow, HeaderByte };
constexpr int kMutations = 8;
constexpr std::size_t kPage = 4096;

std::string readAll(const fs::path& file) {
    std::ifstream in(file, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

void writeAll(const fs::path& file, const std::string& bytes) {
    std::ofstream(file, std::ios::binary | std::ios::trunc) << bytes;
}

std::string mutated(std::string bytes, Mutation kind, std::mt19937_64& random) {
    const auto at = random() % bytes.size();
    const auto length = std::min<std::size_t>(1 + random() % 600, bytes.size() - at);
    const auto pageAt = [&] { return random() % (bytes.size() / kPage) * kPage; };
    switch (kind) {
    case Mutation::FlipBit:
        bytes[at] = static_cast<char>(bytes[at] ^ (1 << random() % 8));
        break;
    case Mutation::SetByte:
        bytes[at] = static_cast<char>(bytes[at] + 1 + static_cast<int>(random() % 255));
        break;
    case Mutation::ZeroRange:
        bytes.replace(at, length, std::string(length, '\0'));
        break;
    case Mutation::RandomRange:
        for (std::size_t i = at; i < at + length; ++i)
            bytes[i] = static_cast<char>(random());
        break;
    case Mutation::SwapPages: {
        const auto one = pageAt();
        const auto other = pageAt();
        const std::string kept = bytes.substr(one, kPage);
        bytes.replace(one, kPage, bytes.substr(other, kPage));
        bytes.replace(other, kPage, kept);
        break;
    }
    case Mutation::Truncate:
        bytes.resize(at);
        break;
    case Mutation::Grow:
        bytes.append(1 + random() % 9000, static_cast<char>(random()));
        break;
    case Mutation::HeaderByte:
        bytes[random() % 100] ^= static_cast<char>(1 + random() % 255);
        break;
    }
    return bytes;
}

/// What the forked workers count, in memory that they share with the test.
struct Tally {
    int opened = 0;
    int refused = 0;
    int written = 0;      ///< refused files whose bytes changed
    int cutsAccepted = 0; ///< truncations that opened
    int missedByManifest = 0;
    double slowest = 0; ///< seconds
};

class DamagedFiles : public ::testing::Test {
protected:
    void SetUp() override {
        const Bench bench = makeBenchShop(folder());
        auto shop = storage::Shop::open(folder());
        ASSERT_OK(shop);
        ASSERT_OK((*shop)->together([&]() -> core::Result<void> {
            for (int mark = 0; mark < 60; ++mark) {
                if (auto saved = (*shop)->jobs().save({benchJob(bench, mark), {}, {}}); !saved)
                    return core::failureOf(saved);
            }
            return {};
        }));
        ASSERT_OK((*shop)->close());
        shop->reset();
        whole_ = readAll(file());
        backup_ = storage::newestGoodBackup(folder()).value();
        backupBytes_ = readAll(backup_.folder / "shop.db");
    }
    fs::path folder() const { return temporary_.path() / "Damaged.milehold"; }
    fs::path file() const { return folder() / "store" / "shop.db"; }

    /// Tries to open the shop with these bytes in place of its file.
    bool opens(const std::string& bytes, Tally& tally) const {
        writeAll(file(), bytes);
        const auto start = std::chrono::steady_clock::now();
        const auto opened = storage::Shop::open(folder());
        tally.slowest = std::max(
            tally.slowest, std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count());
        (opened ? tally.opened : tally.refused) += 1;
        if (!opened) {
            EXPECT_FALSE(opened.error().detail.empty());
            tally.written += readAll(file()) == bytes ? 0 : 1;
        }
        return opened.has_value();
    }
    void dropJournals() const {
        for (const char* ending : {"-journal", "-wal", "-shm"})
            fs::remove(fs::path(file()) += ending);
        fs::remove(folder() / "store" / "open.mark");
    }

    TemporaryFolder temporary_;
    std::string whole_;
    storage::BackupInfo backup_;
    std::string backupBytes_;
};

} // namespace

TEST_F(DamagedFiles, ThousandsOfMutationsNeitherEndNorStopNorWrite) {
    const int all = timesFrom("MILEHOLD_MUTATIONS", 1'200);
    constexpr int kBatch = 100;
    void* const shared =
        ::mmap(nullptr, sizeof(Tally), PROT_READ | PROT_WRITE, MAP_SHARED | MAP_ANONYMOUS, -1, 0);
    ASSERT_NE(shared, MAP_FAILED);
    auto& tally = *new (shared) Tally;
    int crashed = 0;
    for (int batch = 0; batch * kBatch < all; ++batch) {
        // A worker a batch: what ends it ends no more than that.
        const pid_t pid = ::fork();
        if (pid == 0) {
            ::alarm(5U * kBatch);
            std::mt19937_64 random(20310509U + static_cast<unsigned>(batch));
            for (int i = 0; i < kBatch && batch * kBatch + i < all; ++i) {
                const auto kind = static_cast<Mutation>(i % kMutations);
                std::string bytes = mutated(whole_, kind, random);
                const bool opened = opens(bytes, tally);
                tally.cutsAccepted += opened && kind == Mutation::Truncate ? 1 : 0;
                dropJournals();
                bytes = mutated(backupBytes_, kind, random);
                if (bytes != backupBytes_) {
                    writeAll(backup_.folder / "shop.db", bytes);
                    tally.missedByManifest += storage::verifyBackup(backup_) ? 1 : 0;
                }
            }
            ::_exit(HasFailure() ? 1 : 0);
        }
        int status = 0;
        ::waitpid(pid, &status, 0);
        crashed += WIFEXITED(status) && WEXITSTATUS(status) == 0 ? 0 : 1;
    }
    std::cout << all << " mutations of " << kMutations << " kinds: " << tally.opened
              << " opened (no check can see them "
              << "without a manifest), " << tally.refused << " refused with a sentence; " << crashed
              << " batches crashed, slowest " << tally.slowest << " s, " << tally.written
              << " files written to, " << tally.cutsAccepted << " truncations accepted, "
              << tally.missedByManifest << " changed backups not found by their manifest\n";
    EXPECT_EQ(crashed, 0);
    EXPECT_LT(tally.slowest, 5.0);
    EXPECT_EQ(tally.written, 0);
    EXPECT_EQ(tally.cutsAccepted, 0);
    EXPECT_EQ(tally.missedByManifest, 0);
    EXPECT_EQ(tally.opened + tally.refused, all);
    ::munmap(shared, sizeof(Tally));
}

TEST_F(DamagedFiles, EachOfACatalogueIsRefusedWithASentence) {
    const auto with = [&](std::size_t at, std::string bytes) {
        std::string file = whole_;
        file.replace(at, bytes.size(), bytes);
        return file;
    };
    using namespace std::string_literals;
    const std::vector<std::pair<const char*, std::string>> catalogue = {
        {"empty", ""},
        {"one byte", "S"},
        {"the magic less one", "SQLite format 3"},
        {"the magic alone", "SQLite format 3\0"s},
        {"a header less one", whole_.substr(0, 99)},
        {"a header alone", whole_.substr(0, 100)},
        {"half a page", whole_.substr(0, kPage / 2)},
        {"one page", whole_.substr(0, kPage)},
        {"all but one byte", whole_.substr(0, whole_.size() - 1)},
        {"all but one page", whole_.substr(0, whole_.size() - kPage)},
        {"one byte more", whole_ + "x"},
        {"one page more", whole_ + std::string(kPage, '\0')},
        {"the file twice", whole_ + whole_},
        {"blanks", std::string(whole_.size(), ' ')},
        {"nothing but zeroes", std::string(whole_.size(), '\0')},
        {"text", std::string(5'000, 'x')},
        {"a picture", "\x89PNG\r\n\x1a\n"s + std::string(4'000, '\x10')},
        {"packed", "\x1f\x8b\x08"s + std::string(4'000, '\x77')},
        {"older format", with(0, "SQLite format 2\0"s)},
        {"page size 0", with(16, "\0\0"s)},
        {"page size 3", with(16, "\0\3"s)},
        {"page size 511", with(16, "\x01\xff"s)},
        {"page size 8192", with(16, "\x20\0"s)},
        {"page size 65536", with(16, "\0\1"s)},
        {"a file format to come", with(18, "\x09\x09"s)},
        {"reserved space over all", with(20, "\xff"s)},
        {"fewer pages than there are", with(28, "\0\0\0\3"s)},
        {"more pages than there are", with(28, "\x7f\0\0\0"s)},
        {"no pages", with(28, "\0\0\0\0"s)},
        {"another program's", with(68, "\0\0\0\0"s)},
        {"schema 0", with(60, "\0\0\0\0"s)},
        {"schema -1", with(60, "\xff\xff\xff\xff"s)},
        {"schema to come", with(60, "\0\0\x0f\x00"s)},
        {"first tree gone", with(100, std::string(kPage - 100, '\0'))},
        {"first tree garbage", with(100, std::string(kPage - 100, '\x7f'))},
        {"every page after the first gone",
         whole_.substr(0, kPage) + std::string(whole_.size() - kPage, '\0')},
    };
    Tally tally;
    for (const auto& [name, bytes] : catalogue) {
        SCOPED_TRACE(name);
        EXPECT_FALSE(opens(bytes, tally));
        dropJournals();
    }
    EXPECT_EQ(tally.written, 0);
    EXPECT_LT(tally.slowest, 5.0);
    EXPECT_GE(catalogue.size(), 30U);
    EXPECT_TRUE(opens(whole_, tally)) << "the catalogue begins with a good file";
    std::cout << "catalogue: " << tally.refused << " of " << catalogue.size() << " refused, slowest "
              << tally.slowest << " s, " << tally.written << " written to\n";
}

} // namespace milehold::test
