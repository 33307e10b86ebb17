// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/attachment_store.h"
#include "storage/database/hash.h"
#include "tests/storage/support/shop_fixture.h"

#include <gmock/gmock.h>

#include <algorithm>
#include <csignal>
#include <cstdlib>
#include <fcntl.h>
#include <fstream>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

namespace milehold::test {

using core::ErrorCode;

namespace {

constexpr std::string_view kPng = "\x89PNG\r\n\x1A\n";

fs::path write(const fs::path& file, std::string_view bytes) {
    std::ofstream(file, std::ios::binary) << bytes;
    return file;
}

std::string photo(const std::string& rest) {
    return std::string(kPng) + rest;
}

std::size_t filesBelow(const fs::path& folder) {
    std::size_t count = 0;
    for (const auto& entry : fs::recursive_directory_iterator(folder))
        count += entry.is_regular_file() ? 1U : 0U;
    return count;
}

} // namespace

class Attachments : public ShopTest {
protected:
    void SetUp() override {
        ShopTest::SetUp();
        job = saved(finishedJob());
    }
    fs::path kept() const { return folder() / "store" / "attachments"; }
    core::Job job;
    TemporaryFolder place;
};

TEST_F(Attachments, AFileIsKeptUnderItsHashAndNamedByItsJob) {
    const std::string bytes = photo(std::string(200'000, 'x'));
    const auto added =
        storage::attachmentsOf(shop()).add(job.id, write(place.path() / "a.png", bytes), "before work.png");
    ASSERT_OK(added);
    EXPECT_EQ(added->sha256, storage::sha256(bytes));
    EXPECT_EQ(added->kind, "png");
    EXPECT_EQ(added->size, static_cast<std::int64_t>(bytes.size()));
    const fs::path file = kept() / added->sha256.substr(0, 2) / added->sha256;
    struct stat facts {};
    ASSERT_EQ(::stat(file.c_str(), &facts), 0);
    EXPECT_EQ(facts.st_mode & 0777U, 0600U);
    EXPECT_EQ(shop().changeLog().newest(1)->front().table, "attachment");
    reopen();
    EXPECT_HOLDS(storage::attachmentsOf(shop()).ofJob(job.id), std::vector{*added});
    const auto copy = storage::attachmentsOf(shop()).copyToRead(added->id, place.path());
    ASSERT_OK(copy);
    EXPECT_EQ(copy->extension(), ".png");
    ASSERT_EQ(::stat(copy->c_str(), &facts), 0);
    EXPECT_EQ(facts.st_mode & 0777U, 0400U);
    EXPECT_TRUE(shop().verify(storage::CheckDepth::Full)->sound());
}

TEST_F(Attachments, TheSameContentIsOneFileAndOneRowAJob) {
    const auto file = write(place.path() / "a.png", photo("one"));
    const auto first = storage::attachmentsOf(shop()).add(job.id, file, "a");
    const auto second = storage::attachmentsOf(shop()).add(job.id, file, "another name");
    ASSERT_OK(second);
    EXPECT_EQ(*first, *second);
    const core::Job other = saved(finishedJob(day(2031, 4, 10), 50'100));
    ASSERT_OK(storage::attachmentsOf(shop()).add(other.id, file, "b"));
    EXPECT_EQ(filesBelow(kept()), 1U);
    // It stays while one of them names it.
    ASSERT_OK(storage::attachmentsOf(shop()).remove(first->id));
    EXPECT_HOLDS(storage::attachmentsOf(shop()).sweep({}, core::Moment::max()), 0U);
    ASSERT_OK(
        storage::attachmentsOf(shop()).remove(storage::attachmentsOf(shop()).ofJob(other.id)->front().id));
    EXPECT_HOLDS(storage::attachmentsOf(shop()).sweep({first->sha256}, core::Moment::max()),
                 0U); // a backup names it
    EXPECT_HOLDS(storage::attachmentsOf(shop()).sweep({}, now - std::chrono::days(100'000)), 0U); // too young
    EXPECT_HOLDS(storage::attachmentsOf(shop()).sweep({}, core::Moment::max()), 1U);
    EXPECT_EQ(filesBelow(kept()), 0U);
}

TEST_F(Attachments, ASweepKeepsWhatAKeptBackupNamesAndFilesThatAreNotItsOwn) {
    const auto old = [](const fs::path& file) {
        const timespec times[2] = {{1'000'000'000, 0}, {1'000'000'000, 0}};
        ASSERT_EQ(::utimensat(AT_FDCWD, file.c_str(), times, 0), 0);
    };
    const auto fileOf = [&](const core::Attachment& one) {
        return kept() / one.sha256.substr(0, 2) / one.sha256;
    };
    const auto inBackup =
        storage::attachmentsOf(shop()).add(job.id, write(place.path() / "a.png", photo("one")), "a");
    ASSERT_OK(inBackup);
    ASSERT_OK(shop().backUp(storage::BackupReason::OnDemand));
    const auto gone =
        storage::attachmentsOf(shop()).add(job.id, write(place.path() / "a.png", photo("two")), "b");
    ASSERT_OK(gone);
    for (const auto& one : {*inBackup, *gone}) {
        ASSERT_OK(storage::attachmentsOf(shop()).remove(one.id));
        old(fileOf(one));
    }
    const auto mine = write(kept() / "read me.txt", "put here by a person");
    old(mine);
    const auto half = write(kept() / "tmp" / "half", "left by a killed program");
    old(half);
    const auto today = std::chrono::floor<std::chrono::milliseconds>(std::chrono::system_clock::now());
    EXPECT_HOLDS(storage::sweepUnnamed(shop(), today), 2U);
    EXPECT_TRUE(fs::exists(fileOf(*inBackup)));
    EXPECT_FALSE(fs::exists(fileOf(*gone)));
    EXPECT_TRUE(fs::exists(mine));
    EXPECT_FALSE(fs::exists(half));
    // A backup whose list cannot be read may name anything: nothing is removed.
    old(write(fileOf(*gone), photo("two")));
    fs::create_directory(shop().backups()->front().folder / "attachments.txt.d");
    fs::remove(shop().backups()->front().folder / "attachments.txt");
    fs::rename(shop().backups()->front().folder / "attachments.txt.d",
               shop().backups()->front().folder / "attachments.txt");
    EXPECT_FALSE(storage::sweepUnnamed(shop(), today).has_value());
    EXPECT_TRUE(fs::exists(fileOf(*gone)));
}

TEST_F(Attachments, WhatIsNoPhotoNoSoundAndNoPageIsRefused) {
    const auto refused = [&](const fs::path& file) {
        const auto outcome = storage::attachmentsOf(shop()).add(job.id, file, "x");
        EXPECT_FALSE(outcome.has_value());
        if (outcome)
            return ErrorCode::Internal;
        EXPECT_EQ(outcome.error().detail.find(file.filename().string()), std::string::npos);
        return outcome.error().code;
    };
    EXPECT_EQ(refused(write(place.path() / "empty.png", "")), ErrorCode::InvalidInput);
    EXPECT_EQ(refused(write(place.path() / "run.png", "#!/bin/sh\n")), ErrorCode::InvalidInput);
    EXPECT_EQ(refused(place.path()), ErrorCode::InvalidInput);
    EXPECT_EQ(refused(place.path() / "missing"), ErrorCode::NotFound);
    const auto real = write(place.path() / "real.png", photo("x"));
    fs::create_symlink(real, place.path() / "link.png");
    EXPECT_EQ(refused(place.path() / "link.png"), ErrorCode::InvalidInput);
    ASSERT_EQ(::mkfifo((place.path() / "pipe").c_str(), 0600), 0);
    EXPECT_EQ(refused(place.path() / "pipe"), ErrorCode::InvalidInput);
    EXPECT_EQ(refused("/dev/zero"), ErrorCode::InvalidInput);
    const auto sparse = write(place.path() / "sparse.png", photo("x"));
    ASSERT_EQ(::truncate(sparse.c_str(), off_t{4} << 30), 0);
    EXPECT_EQ(refused(sparse), ErrorCode::InvalidInput);
    EXPECT_FAILS(storage::attachmentsOf(shop()).add(core::JobId{{{1}}}, real, "x"), ErrorCode::NotFound);
    EXPECT_TRUE(storage::attachmentsOf(shop()).ofJob(job.id)->empty());
}

TEST_F(Attachments, AHostileNameIsDataAndNeverAPath) {
    std::vector<std::string> names = {"../../../etc/passwd",
                                      "..\\..\\boot.ini",
                                      "/abs",
                                      "a\nb\tc",
                                      "\x1B[2J",
                                      "\xFF\xFE",
                                      std::string(5'000, 'n'),
                                      "'; DROP TABLE job; --",
                                      "%s%n",
                                      "=1+1",
                                      ".",
                                      "..",
                                      ""};
    for (int i = static_cast<int>(names.size()); i < 100; ++i)
        names.push_back(std::string(static_cast<std::size_t>(i), '/') + "x" +
                        std::string(1, static_cast<char>(i)));
    for (std::size_t i = 0; i < names.size(); ++i) {
        const auto file = write(place.path() / "a.png", photo(std::to_string(i)));
        const auto added = storage::attachmentsOf(shop()).add(job.id, file, names[i]);
        ASSERT_OK(added);
        EXPECT_EQ(added->name.find_first_of("/\\\n\t\x1B"), std::string::npos);
        EXPECT_LE(added->name.size(), 800U);
        EXPECT_FALSE(added->name.empty());
        const auto copy = storage::attachmentsOf(shop()).copyToRead(added->id, place.path());
        ASSERT_OK(copy);
        EXPECT_EQ(copy->parent_path(), place.path());
    }
    EXPECT_EQ(filesBelow(kept()), 100U);
    reopen();
    EXPECT_EQ(storage::attachmentsOf(shop()).ofJob(job.id)->size(), 100U);
}

TEST_F(Attachments, DamageIsFoundByTheFullCheckAndAtEachView) {
    const auto added =
        storage::attachmentsOf(shop()).add(job.id, write(place.path() / "a.png", photo("one")), "a");
    ASSERT_OK(added);
    const fs::path file = kept() / added->sha256.substr(0, 2) / added->sha256;
    write(file, photo("two"));
    EXPECT_FALSE(shop().verify(storage::CheckDepth::Full)->sound());
    EXPECT_TRUE(shop().verify(storage::CheckDepth::Quick)->sound());
    EXPECT_FAILS(storage::attachmentsOf(shop()).copyToRead(added->id, place.path()), ErrorCode::Unreadable);
    // Adding the same content again mends it.
    ASSERT_OK(storage::attachmentsOf(shop()).add(job.id, write(place.path() / "a.png", photo("one")), "a"));
    EXPECT_TRUE(shop().verify(storage::CheckDepth::Full)->sound());
    fs::remove(file);
    EXPECT_THAT(shop().verify(storage::CheckDepth::Full)->problems,
                ::testing::ElementsAre("an attachment's file is missing"));
}

TEST_F(Attachments, BackupsCarryThemAndARestoreBringsThemBack) {
    const auto added =
        storage::attachmentsOf(shop()).add(job.id, write(place.path() / "a.png", photo("one")), "a");
    ASSERT_OK(added);
    const auto backup = shop().backUp(storage::BackupReason::OnDemand);
    ASSERT_OK(backup);
    EXPECT_TRUE(fs::exists(backup->folder / "attachments.txt"));
    EXPECT_OK(storage::verifyBackup(*backup));
    ASSERT_OK(shop().backUp(storage::BackupReason::OnDemand));
    EXPECT_EQ(filesBelow(folder() / "backups" / "attachments"), 1U);
    // A browsed backup shows them too.
    const auto browsed = storage::Shop::browse(*backup);
    ASSERT_OK(browsed);
    EXPECT_OK(storage::attachmentsOf(**browsed).copyToRead(added->id, place.path()));
    ASSERT_OK(shop().close());
    letGo();
    fs::remove_all(kept());
    ASSERT_OK(storage::restoreBackup(folder(), *backup));
    reopen();
    EXPECT_OK(storage::attachmentsOf(shop()).copyToRead(added->id, place.path()));
    EXPECT_TRUE(shop().verify(storage::CheckDepth::Full)->sound());
    write(folder() / "backups" / "attachments" / added->sha256.substr(0, 2) / added->sha256, "spoilt");
    EXPECT_FAILS(storage::verifyBackup(*backup), ErrorCode::Unreadable);
}

// The figure of the plan is 1,000 kills; here as many as keep the quick set quick, from a fixed seed.
TEST_F(Attachments, AProgramThatIsKilledLeavesNoRowWithoutItsFile) {
    const char* const wanted = std::getenv("MILEHOLD_KILLS");
    const int kills = wanted == nullptr ? 60 : std::max(1, std::atoi(wanted));
    unsigned state = 20310409;
    ASSERT_OK(shop().close());
    letGo();
    int acked = 0;
    for (int round = 0; round < kills; ++round) {
        int pipe[2];
        ASSERT_EQ(::pipe(pipe), 0);
        const pid_t child = ::fork();
        ASSERT_GE(child, 0);
        if (child == 0) {
            ::close(pipe[0]);
            auto opened = storage::Shop::open(folder());
            for (int i = 0; opened && i < 1'000; ++i) {
                const auto file = write(place.path() / "k.png", photo(std::to_string(round * 1'000 + i)));
                if (!storage::attachmentsOf(**opened).add(job.id, file, "k"))
                    ::_exit(1);
                const char done = 1;
                if (::write(pipe[1], &done, 1) != 1)
                    ::_exit(1);
            }
            ::_exit(0);
        }
        ::close(pipe[1]);
        char done = 0;
        ASSERT_EQ(::read(pipe[0], &done, 1), 1) << "round " << round;
        ++acked;
        state = state * 1'664'525U + 1'013'904'223U;
        ::usleep((state >> 16U) % 20'000U);
        ::kill(child, SIGKILL);
        int status = 0;
        ::waitpid(child, &status, 0);
        while (::read(pipe[0], &done, 1) == 1)
            ++acked;
        ::close(pipe[0]);
    }
    reopen();
    const auto rows = storage::attachmentsOf(shop()).ofJob(job.id);
    ASSERT_OK(rows);
    EXPECT_GE(rows->size(), static_cast<std::size_t>(acked));
    EXPECT_HOLDS(storage::attachmentsOf(shop()).check(), std::vector<std::string>());
    const auto named = storage::attachmentsOf(shop()).named();
    ASSERT_OK(storage::attachmentsOf(shop()).sweep({}, core::Moment::max()));
    EXPECT_EQ(filesBelow(kept()), named->size());
    EXPECT_HOLDS(storage::attachmentsOf(shop()).check(), std::vector<std::string>());
    RecordProperty("acknowledged", acked);
    std::printf("%d kills, %d attachments acknowledged, %zu rows, 0 without a sound file\n", kills, acked,
                rows->size());
}

TEST(AttachmentKinds, AreToldByTheFirstBytes) {
    using storage::kindOfBytes;
    using namespace std::string_view_literals;
    // Magic numbers: ISO/IEC 10918-1, PNG (ISO/IEC 15948), RIFF, ISO 32000, ISO/IEC 14496-12, RFC 3533, FLAC.
    EXPECT_EQ(kindOfBytes("\xFF\xD8\xFF\xE0"sv), "jpeg");
    EXPECT_EQ(kindOfBytes(kPng), "png");
    EXPECT_EQ(kindOfBytes("RIFF\x10\0\0\0WAVEfmt "sv), "wav");
    EXPECT_EQ(kindOfBytes("RIFF\x10\0\0\0WEBPVP8 "sv), "webp");
    EXPECT_EQ(kindOfBytes("%PDF-1.7"sv), "pdf");
    EXPECT_EQ(kindOfBytes("\0\0\0\x18"
                          "ftypheic"sv),
              "heic");
    EXPECT_EQ(kindOfBytes("\0\0\0\x18"
                          "ftypM4A "sv),
              "mp4");
    EXPECT_EQ(kindOfBytes("OggS\0"sv), "ogg");
    EXPECT_EQ(kindOfBytes("fLaC"sv), "flac");
    for (const auto bytes : {""sv, "MZ"sv,
                             "\x7F"
                             "ELF"sv,
                             "<svg"sv, "PK\x03\x04"sv, "SQLite format 3"sv, "%PD"sv})
        EXPECT_FALSE(kindOfBytes(bytes).has_value()) << bytes;
}

} // namespace milehold::test
