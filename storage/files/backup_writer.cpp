// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/files/backup_writer.h"

#include "storage/database/hash.h"
#include "storage/database/raw_database.h"
#include "storage/database/sql_error.h"
#include "storage/database/sqlite_handle.h"
#include "storage/database/statement.h"
#include "storage/files/attachment_copies.h"
#include "storage/files/durable.h"
#include "storage/files/facts.h"
#include "storage/files/manifest.h"
#include "storage/make_id.h"

#include <QSqlDatabase>
#include <QSqlQuery>
#include <QVariant>

#include <algorithm>
#include <chrono>
#include <future>
#include <set>

namespace milehold::storage {

using core::ErrorCode;
namespace fs = std::filesystem;

namespace {

constexpr auto kDatabase = "shop.db";
constexpr auto kManifest = "manifest.json";

/// Removes a half-made backup on the way out.
class TemporaryFolder {
public:
    explicit TemporaryFolder(fs::path folder) : folder_(std::move(folder)) {}
    ~TemporaryFolder() {
        std::error_code ignored;
        if (!folder_.empty())
            fs::remove_all(folder_, ignored);
    }
    TemporaryFolder(const TemporaryFolder&) = delete;
    TemporaryFolder& operator=(const TemporaryFolder&) = delete;
    const fs::path& path() const { return folder_; }
    void keep() { folder_.clear(); }

private:
    fs::path folder_;
};

core::Result<void> copyDatabase(QSqlDatabase& source, const fs::path& to) {
    sqlite3* handle = sqliteHandle(source);
    if (handle == nullptr) {
        // Another SQLite than ours: it must make the copy itself.
        QSqlQuery copying(source);
        if (!copying.prepare(QStringLiteral("VACUUM INTO :file")))
            return tl::unexpected(sqlError(copying.lastError(), "copy the shop"));
        copying.bindValue(QStringLiteral(":file"), QString::fromStdString(to.string()));
        if (!copying.exec())
            return tl::unexpected(sqlError(copying.lastError(), "copy the shop"));
        return syncFile(to);
    }
    auto copy = RawDatabase::create(to);
    if (!copy)
        return core::failureOf(copy);
    if (auto filled = copy->fillFrom(handle); !filled)
        return filled;
    if (auto closed = copy->close(); !closed)
        return closed;
    return syncFile(to);
}

core::Result<void> compareAlone(const fs::path& file, const Facts& wanted) {
    const auto facts = factsOfSoundFile(file);
    if (!facts)
        return core::failureOf(facts);
    if (*facts != wanted)
        return core::fail(ErrorCode::Unreadable, "a backup holds other figures than the shop");
    return {};
}

/// Alarms that keep older backups from being rotated away.
std::string warningAgainst(const BackupInfo& backup, const std::vector<BackupInfo>& earlier) {
    if (earlier.empty())
        return {};
    const auto& last = earlier.front();
    if (backup.jobs() == 0 && last.jobs() > 0)
        return "the shop holds no job any more";
    if (backup.jobs() * 5 < last.jobs() * 4)
        return "the shop holds over a fifth fewer jobs than in the backup before";
    if (backup.bytes * 5 < last.bytes * 4)
        return "the file is over a fifth smaller than in the backup before";
    return {};
}

/// What programs left that were killed in the middle of a backup or of a restore.
void removeLeftovers(const ShopFolder& folder) {
    std::error_code ignored;
    for (const auto& entry : fs::directory_iterator(folder.backups(), ignored)) {
        if (entry.path().filename().string().starts_with("tmp-"))
            fs::remove_all(entry.path(), ignored);
    }
    // A restore that goes on now is younger.
    const auto longAgo = fs::file_time_type::clock::now() - std::chrono::hours(1);
    for (const auto& entry : fs::directory_iterator(folder.root, ignored)) {
        std::error_code problem;
        if (entry.path().filename().string().starts_with(kReadingFolder) &&
            entry.last_write_time(problem) < longAgo && !problem)
            fs::remove_all(entry.path(), problem);
    }
}

} // namespace

core::Result<BackupInfo> writeBackup(QSqlDatabase& source, const ShopFolder& folder, BackupReason reason,
                                     core::Moment now) {
    if (auto made = makeFolder(folder.backups()); !made)
        return core::failureOf(made);
    removeLeftovers(folder);
    auto earlier = listBackups(folder.root);
    if (!earlier)
        return core::failureOf(earlier);
    TemporaryFolder making(folder.backups() / ("tmp-" + core::toString(makeUuid())));
    if (auto made = makeFolder(making.path()); !made)
        return core::failureOf(made);

    auto facts = readFacts([&](std::string_view sql) { return askPlain(source, sql, "count the shop"); });
    if (!facts)
        return core::failureOf(facts);
    const fs::path copy = making.path() / kDatabase;
    if (auto copied = copyDatabase(source, copy); !copied)
        return core::failureOf(copied);
    // Hashed while it is checked: both only read it, and a large shop takes its time for either.
    auto hashing = std::async(std::launch::async, [copy] { return sha256OfFile(copy); });
    if (auto same = compareAlone(copy, *facts); !same)
        return core::failureOf(same);

    BackupInfo backup;
    backup.at = now;
    backup.reason = reason;
    backup.schema = facts->schema;
    std::error_code problem;
    backup.bytes = fs::file_size(copy, problem);
    const auto hash = hashing.get();
    if (problem || !hash)
        return core::fail(ErrorCode::DiskProblem, "a backup cannot be read back");
    backup.sha256 = *hash;
    backup.rows = facts->rows;
    backup.chainSequence = facts->head.sequence;
    backup.chainHash = facts->head.hash;
    backup.warning = warningAgainst(backup, *earlier);
    if (auto copied = copyAttachments(copy, folder); !copied)
        return core::failureOf(copied);
    if (auto written = createFile(making.path() / kManifest, toJson(backup)); !written)
        return core::failureOf(written);

    const std::string name = stamp(now) + "-" + std::string(codeOf(reason));
    backup.folder = folder.backups() / name;
    for (int i = 2; fs::exists(backup.folder, problem); ++i) {
        backup.folder = folder.backups() / (name + "-" + std::to_string(i));
    }
    if (auto renamed = renameFile(making.path(), backup.folder); !renamed)
        return core::failureOf(renamed);
    making.keep();

    earlier->insert(earlier->begin(), backup);
    for (const auto& old : outdated(*earlier, now))
        fs::remove_all(old.folder, problem);
    sweepAttachments(folder.backups());
    return backup;
}

std::vector<BackupInfo> outdated(std::span<const BackupInfo> backups, core::Moment now) {
    using namespace std::chrono;
    constexpr std::size_t kLeast = 3;
    std::vector<BackupInfo> old;
    if (backups.empty() || !backups.front().warning.empty())
        return old;
    std::set<std::int64_t> dayKept;
    std::set<std::int64_t> weekKept;
    std::set<std::int64_t> monthKept;
    for (std::size_t i = 0; i < backups.size(); ++i) {
        const auto& backup = backups[i];
        const auto day = floor<days>(backup.at).time_since_epoch().count();
        const year_month_day date(floor<days>(backup.at));
        const auto month = int(date.year()) * 12 + static_cast<int>(unsigned(date.month()));
        bool keep = i < kLeast || now - backup.at <= hours(48);
        keep |= backup.reason == BackupReason::BeforeMigration && now - backup.at <= days(180);
        // The newest of each day, week and month is met first.
        if (dayKept.size() < 14 && dayKept.insert(day).second)
            keep = true;
        if (weekKept.size() < 8 && weekKept.insert((day + 3) / 7).second)
            keep = true;
        if (monthKept.size() < 24 && monthKept.insert(month).second)
            keep = true;
        // What was forgotten must not live on in the copies of a shop that rests.
        if (i >= kLeast && backup.at < now - months(kMonthsKept))
            keep = false;
        if (!keep)
            old.push_back(backup);
    }
    return old;
}

} // namespace milehold::storage
