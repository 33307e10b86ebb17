// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/database/unit_of_work.h"

#include "storage/database/change_row.h"
#include "storage/database/dialect.h"
#include "storage/database/sql_error.h"
#include "storage/database/sqlite_handle.h"
#include "storage/database/statement.h"
#include "storage/offline.h"

#include <sqlite3.h>

#include <cassert>
#include <chrono>
#include <random>
#include <thread>

namespace milehold::storage {

using core::ErrorCode;

namespace {

bool isOfJobs(std::string_view table) {
    return table == "job" || table == "odometer" || table == "vehicle" || table == "customer" ||
           table == "follow_up";
}

constexpr int kAskings = 12;
constexpr std::chrono::milliseconds kBetweenAskings{500};
/// More changes than this in one commit are told as "look at everything again".
constexpr std::size_t kMostNotices = 100;

/// Table and key only, to be heard by the other stations once the commit stands.
core::Result<void> notifyStations(Session& session, const std::vector<ChangeNotice>& notices) {
    Statement tell(session, "SELECT pg_notify(:channel, :payload)", "tell the other stations");
    const auto send = [&](const std::string& payload) {
        tell.again();
        tell.bindText(":channel", dialect::kServerSchema).bindText(":payload", payload);
        return tell.run();
    };
    if (notices.size() > kMostNotices)
        return send("*");
    for (const auto& notice : notices) {
        if (auto sent = send(notice.table + " " + core::toString(notice.row)); !sent)
            return sent;
    }
    return {};
}

/// Empty when it cannot be told.
std::optional<bool> isInTransaction(const QSqlDatabase& database) {
    sqlite3* handle = sqliteHandle(database);
    if (handle == nullptr)
        return std::nullopt;
    return sqlite3_get_autocommit(handle) == 0;
}

} // namespace

UnitOfWork::~UnitOfWork() {
    if (outer_ != nullptr) {
        if (open_)
            outer_->fail(); // left without commit(): the outer unit must not keep half of it
        return;
    }
    if (open_)
        rollBack();
}

core::Result<void> UnitOfWork::begin() {
    session_.assertThread();
    assert(!open_);
    if (session_.readOnly())
        return core::fail(ErrorCode::ReadOnly, "the shop is open for reading only");
    if (session_.unit() != nullptr) {
        outer_ = session_.unit();
        if (outer_->hasFailed())
            return core::fail(ErrorCode::Internal, "a unit of work inside one that failed");
        open_ = true;
        return {};
    }
    if (auto connected = session_.connect(); !connected)
        return connected;
    auto begun = beginTransaction();
    // A server that was started again meanwhile: nothing was begun, so that it may be begun anew.
    if (!begun && isOffline(begun.error()) && session_.reconnect())
        begun = beginTransaction();
    if (!begun)
        return begun;
    open_ = true;
    session_.setUnit(this);
    return {};
}

core::Result<void> UnitOfWork::beginTransaction() {
    auto& database = session_.database();
    const Engine engine = engineOf(database);
    if (auto begun = runPlain(database, dialect::begin(engine), "begin"); !begun)
        return begun;
    const auto lock = dialect::lockForWriting(engine);
    if (lock.empty())
        return {};
    auto locked = runPlain(database, lock, "begin");
    if (!locked && !isOffline(locked.error()))
        static_cast<void>(runPlain(database, "ROLLBACK", "roll back"));
    return locked;
}

core::Result<void> UnitOfWork::commit() {
    assert(open_);
    if (outer_ != nullptr) {
        open_ = false;
        if (failed_)
            outer_->fail();
        return {};
    }
    // After "disk full" SQLite may have rolled back by itself; what ran since would have been kept alone.
    if (!failed_ && !isInTransaction(session_.database()).value_or(true))
        failed_ = true;
    if (failed_) {
        rollBack();
        return core::fail(ErrorCode::Internal, "commit of a unit of work that had failed");
    }
    const bool onServer = engineOf(session_.database()) == Engine::Postgresql;
    if (onServer) {
        if (auto told = notifyStations(session_, notices_); !told) {
            rollBack();
            return told;
        }
    }
    auto committed = runPlain(session_.database(), "COMMIT", "commit");
    if (!committed && onServer)
        committed = settleOnServer(committed.error());
    else if (!committed)
        committed = settle(committed.error());
    open_ = false;
    session_.setUnit(nullptr);
    if (committed)
        session_.announce(notices_);
    return committed;
}

core::Result<void> UnitOfWork::settle(const core::Error& why) {
    if (isInTransaction(session_.database()).value_or(false)) {
        if (runPlain(session_.database(), "ROLLBACK", "roll back") &&
            !isInTransaction(session_.database()).value_or(true)) {
            return tl::unexpected(why);
        }
    }
    // The commit is neither done nor undone as far as this connection knows: the file itself must tell.
    session_.setUnit(nullptr);
    session_.disconnect();
    if (!session_.connect()) {
        return core::fail(ErrorCode::OutcomeUnknown,
                          why.detail + "; the shop cannot be opened again to look");
    }
    if (!logged_)
        return tl::unexpected(why);
    const auto arrived = hasArrived();
    if (!arrived)
        return core::fail(ErrorCode::OutcomeUnknown, why.detail);
    if (*arrived)
        return {};
    return tl::unexpected(why);
}

core::Result<void> UnitOfWork::settleOnServer(const core::Error& why) {
    session_.setUnit(nullptr);
    if (!isOffline(why))
        return tl::unexpected(why); // the server itself said no, and has rolled back
    session_.noteLost();
    if (!logged_)
        return tl::unexpected(why);
    const core::Error unknown{ErrorCode::OutcomeUnknown,
                              why.detail + "; the server cannot be asked whether the save arrived"};
    for (int attempt = 0; attempt < kAskings; ++attempt) {
        if (attempt > 0)
            std::this_thread::sleep_for(kBetweenAskings);
        if (!session_.reconnect())
            continue;
        // Whoever committed held this lock: once it is ours, that transaction is over one way or the other.
        if (!beginTransaction())
            continue;
        auto arrived = hasArrived();
        static_cast<void>(runPlain(session_.database(), "ROLLBACK", "roll back"));
        if (!arrived)
            continue;
        if (*arrived)
            return {};
        return tl::unexpected(why);
    }
    return tl::unexpected(unknown);
}

core::Result<bool> UnitOfWork::hasArrived() {
    Statement asked(session_, "SELECT hash FROM change_log WHERE seq = :seq", "look up a commit");
    asked.bindInt(":seq", head_.sequence);
    if (auto ran = asked.run(); !ran)
        return core::failureOf(ran);
    const auto row = asked.next();
    if (!row)
        return core::failureOf(row);
    return *row && asked.text(0) == head_.hash;
}

void UnitOfWork::rollBack() {
    open_ = false;
    session_.setUnit(nullptr);
    if (!session_.isConnected())
        return;
    // Only while a transaction is still open: SQLite may have ended it by itself.
    if (!isInTransaction(session_.database()).value_or(true))
        return;
    const auto rolledBack = runPlain(session_.database(), "ROLLBACK", "roll back");
    // A connection that cannot roll back is dropped; the journal, or the server, does it without it.
    if (!rolledBack && engineOf(session_.database()) == Engine::Postgresql)
        session_.noteLost();
    else if (!rolledBack)
        session_.disconnect();
}

core::Result<void> UnitOfWork::readHead() {
    if (headKnown_)
        return {};
    auto head = readChainHead(session_);
    if (!head)
        return core::failureOf(head);
    const auto at = momentAfter(session_, *head);
    if (!at)
        return core::failureOf(at);
    at_ = *at;
    head_ = std::move(*head);
    headKnown_ = true;
    return {};
}

void UnitOfWork::mark(std::string_view name, std::int64_t number) {
    if (outer_ != nullptr)
        return outer_->mark(name, number);
    marks_.push_back({std::string(name), {}, intValue(number), false});
}

core::Result<void> UnitOfWork::log(ChangeAction action, std::string_view table, const core::Uuid& row,
                                   const std::vector<LoggedField>& fields) {
    if (outer_ != nullptr)
        return outer_->log(action, table, row, fields);
    if (fields.empty())
        return {};
    if (auto read = readHead(); !read)
        return read;
    std::vector<LoggedField> marked = fields;
    marked.insert(marked.end(), marks_.begin(), marks_.end());
    auto head = writeChange(session_, head_, at_, action, table, row, marked);
    if (!head)
        return core::failureOf(head);
    head_ = std::move(*head);
    logged_ = true;
    if (!isOfJobs(table))
        shelf_.reset();
    notices_.push_back({std::string(table), row});
    return {};
}

bool mayRepeat(const Session& session, const core::Error& error, int attempt) {
    constexpr int kMostRepeats = 5;
    if (session.unit() != nullptr || attempt >= kMostRepeats || !isWorthRepeating(error))
        return false;
    // Uneven waits, so that two stations that stood in each other's way do not meet again.
    std::minstd_rand random(std::random_device{}());
    std::this_thread::sleep_for(
        std::chrono::milliseconds(5 + random() % (20U << static_cast<unsigned>(attempt))));
    return true;
}

} // namespace milehold::storage
