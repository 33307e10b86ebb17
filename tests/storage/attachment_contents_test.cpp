// SPDX-License-Identifier: GPL-3.0-or-later
// Photos of jobs on both engines: as files beside the records, or as rows on the server.
#include "storage/attachment_store.h"
#include "storage/database/hash.h"
#include "storage/erasure.h"
#include "storage/exchange/exchange_store.h"
#include "tests/storage/support/shop_fixture.h"
#include "tests/support/postgresql_server.h"

#include <gmock/gmock.h>

#include <fcntl.h>
#include <fstream>
#include <sstream>
#include <sys/stat.h>

namespace milehold::test {

using core::ErrorCode;

namespace {

std::string photo(const std::string& rest) {
    return "\x89PNG\r\n\x1A\n" + rest;
}

fs::path write(const fs::path& file, std::string_view bytes) {
    std::ofstream(file, std::ios::binary) << bytes;
    return file;
}

std::string bytesOf(const fs::path& file) {
    std::ifstream in(file, std::ios::binary);
    std::ostringstream bytes;
    bytes << in.rdbuf();
    return bytes.str();
}

std::size_t filesBelow(const fs::path& folder) {
    std::size_t count = 0;
    std::error_code problem;
    for (const auto& entry : fs::recursive_directory_iterator(folder, problem))
        count += entry.is_regular_file() ? 1U : 0U;
    return count;
}

} // namespace

class AttachmentContents : public EngineTest {
protected:
    void SetUp() override {
        EngineTest::SetUp();
        job = saved(finishedJob());
    }
    storage::AttachmentStore store() { return storage::attachmentsOf(shop()); }
    /// How many contents are kept, whoever names them.
    std::size_t contents() {
        if (!isOnServer())
            return filesBelow(folder() / "store" / "attachments");
        return std::stoul(PostgresqlServer::shared().ask(address().substr(address().rfind('/') + 1),
                                                         "SELECT count(*) FROM milehold.attachment_file"));
    }
    /// Lets a content look as if it had been kept so long ago.
    void makeOld(const std::string& hash, std::chrono::hours age) {
        const auto then =
            std::chrono::floor<std::chrono::milliseconds>(std::chrono::system_clock::now()) - age;
        if (isOnServer()) {
            PostgresqlServer::shared().ask(address().substr(address().rfind('/') + 1),
                                           "UPDATE milehold.attachment_file SET added_at = '" +
                                               core::toIso(then) + "' WHERE sha256 = '" + hash + "'");
            return;
        }
        const auto seconds =
            std::chrono::duration_cast<std::chrono::seconds>(then.time_since_epoch()).count();
        const timespec times[2] = {{seconds, 0}, {seconds, 0}};
        const fs::path file = folder() / "store" / "attachments" / hash.substr(0, 2) / hash;
        ASSERT_EQ(::utimensat(AT_FDCWD, file.c_str(), times, 0), 0);
    }
    void damage(const std::string& hash) {
        if (isOnServer())
            PostgresqlServer::shared().ask(
                address().substr(address().rfind('/') + 1),
                "UPDATE milehold.attachment_block SET bytes = overlay(bytes placing "
                "'\\x00' from 20) WHERE place = 0 AND sha256 = '" +
                    hash + "'");
        else
            write(folder() / "store" / "attachments" / hash.substr(0, 2) / hash, photo("spoilt"));
    }
    core::Job job;
    TemporaryFolder place;
};

TEST_P(AttachmentContents, AreKeptOnceAndComeBackByteByByteInACopyForReading) {
    std::string bytes = photo("");
    for (int i = 0; bytes.size() < 900'000; ++i) // several blocks, no two alike, every byte in them
        bytes += static_cast<char>(i * 31 + i / 251);
    const auto added = store().add(job.id, write(place.path() / "a.png", bytes), "before work.png");
    ASSERT_OK(added);
    EXPECT_EQ(added->sha256, storage::sha256(bytes));
    EXPECT_EQ(added->size, static_cast<std::int64_t>(bytes.size()));
    EXPECT_HOLDS(store().add(job.id, place.path() / "a.png", "another name"), *added);
    const core::Job twin = saved(finishedJob(day(2031, 4, 10), 50'100));
    ASSERT_OK(store().add(twin.id, place.path() / "a.png", "on another job"));
    EXPECT_EQ(contents(), 1U);
    reopen();
    EXPECT_HOLDS(store().ofJob(job.id), std::vector{*added});
    const auto copy = store().copyToRead(added->id, place.path());
    ASSERT_OK(copy);
    EXPECT_TRUE(bytesOf(*copy) == bytes);
    struct stat facts {};
    ASSERT_EQ(::stat(copy->c_str(), &facts), 0);
    EXPECT_EQ(facts.st_mode & 0777U, 0400U);
    EXPECT_TRUE(shop().verify(storage::CheckDepth::Full)->sound());
    // Nothing stays on its way at a station.
    EXPECT_EQ(filesBelow(shop().folder() / "outgoing"), 0U);
}

TEST_P(AttachmentContents, AreRefusedWhenTheyAreNoPhotoOrTooLarge) {
    EXPECT_FAILS(store().add(job.id, write(place.path() / "run.png", "#!/bin/sh\n"), "x"),
                 ErrorCode::InvalidInput);
    EXPECT_FAILS(store().add(job.id, write(place.path() / "none.png", ""), "x"), ErrorCode::InvalidInput);
    EXPECT_FAILS(store().add(job.id, place.path() / "missing", "x"), ErrorCode::NotFound);
    const auto huge = write(place.path() / "huge.png", photo(""));
    fs::resize_file(huge, storage::kMostAttachmentBytes + 1);
    const auto refused = store().add(job.id, huge, "x");
    EXPECT_FAILS(refused, ErrorCode::InvalidInput);
    EXPECT_THAT(refused.error().detail, ::testing::HasSubstr("50 MB"));
    EXPECT_FAILS(store().add(core::JobId{{{1}}}, write(place.path() / "a.png", photo("a")), "x"),
                 ErrorCode::NotFound);
    EXPECT_TRUE(store().ofJob(job.id)->empty());
}

TEST_P(AttachmentContents, ThatAreDamagedAreFoundNotHandedOutAndMendedByTheSameFile) {
    const auto file = write(place.path() / "a.png", photo("one, and a few bytes more"));
    const auto added = store().add(job.id, file, "a");
    ASSERT_OK(added);
    damage(added->sha256);
    EXPECT_FAILS(store().copyToRead(added->id, place.path()), ErrorCode::Unreadable);
    const auto report = shop().verify(storage::CheckDepth::Full);
    ASSERT_OK(report);
    ASSERT_EQ(report->problems.size(), 1U);
    EXPECT_THAT(report->problems.front(), ::testing::HasSubstr("attachment"));
    ASSERT_OK(store().add(job.id, file, "a"));
    EXPECT_TRUE(shop().verify(storage::CheckDepth::Full)->sound());
    EXPECT_OK(store().copyToRead(added->id, place.path()));
}

TEST_P(AttachmentContents, ThatNobodyHasNamedForThirtyDaysAreSweptAndNothingElseIs) {
    const auto keep = [&](const char* bytes) {
        const auto added = store().add(job.id, write(place.path() / "a.png", photo(bytes)), bytes);
        EXPECT_TRUE(added.has_value());
        return *added;
    };
    const auto named = keep("named and old");
    const auto old = keep("unnamed and old");
    const auto young = keep("unnamed and young");
    const auto barely = keep("unnamed, and a day too young");
    for (const auto& one : {old, young, barely})
        ASSERT_OK(store().remove(one.id));
    makeOld(named.sha256, std::chrono::hours(24 * 400));
    makeOld(old.sha256, std::chrono::hours(24 * 31));
    makeOld(barely.sha256, std::chrono::hours(24 * 29));
    makeOld(young.sha256, std::chrono::hours(1));
    const auto today = std::chrono::floor<std::chrono::milliseconds>(std::chrono::system_clock::now());
    ASSERT_EQ(contents(), 4U);
    EXPECT_HOLDS(storage::sweepUnnamed(shop(), today), 1U);
    EXPECT_EQ(contents(), 3U);
    EXPECT_OK(store().copyToRead(named.id, place.path()));
    EXPECT_HOLDS(storage::sweepUnnamed(shop(), today), 0U);
    EXPECT_HOLDS(storage::sweepUnnamed(shop(), today + std::chrono::hours(24 * 31)), 2U);
    EXPECT_EQ(contents(), 1U);
    EXPECT_TRUE(shop().verify(storage::CheckDepth::Full)->sound());
}

TEST_P(AttachmentContents, GoWithTheCustomerWhoIsForgotten) {
    ASSERT_OK(store().add(job.id, write(place.path() / "a.png", photo("a face")), "a face"));
    ASSERT_OK(storage::forgetCustomer(shop(), customer.id));
    EXPECT_EQ(contents(), 0U);
}

ON_BOTH_ENGINES(AttachmentContents);

} // namespace milehold::test
