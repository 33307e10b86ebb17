// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/database/unit_of_work.h"

#include "storage/database/change_row.h"
#include "storage/database/sqlite_handle.h"
#include "storage/database/statement.h"

#include <sqlite3.h>

#include <cassert>

namespace milehold::storage {

using core::ErrorCode;

namespace {

bool isOfJobs(std::string_view table) {
    return table == "job" || table == "odometer" || table == "vehicle" || table == "customer" ||
           table == "follow_up";
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
    if (auto begun = runPlain(session_.database(), "BEGIN IMMEDIATE", "begin"); !begun)
        return begun;
    open_ = true;
    session_.setUnit(this);
    return {};
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
    auto committed = runPlain(session_.database(), "COMMIT", "commit");
    if (!committed)
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
    Statement asked(session_, "SELECT hash FROM change_log WHERE seq = :seq", "look up a commit");
    asked.bindInt(":seq", head_.sequence);
    if (auto ran = asked.run(); !ran)
        return core::fail(ErrorCode::OutcomeUnknown, why.detail);
    const auto row = asked.next();
    if (!row)
        return core::fail(ErrorCode::OutcomeUnknown, why.detail);
    if (*row && asked.text(0) == head_.hash)
        return {};
    return tl::unexpected(why);
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
    // A connection that cannot roll back is dropped; the journal does it at the next use.
    if (!rolledBack)
        session_.disconnect();
}

core::Result<void> UnitOfWork::readHead() {
    if (headKnown_)
        return {};
    auto head = readChainHead(session_);
    if (!head)
        return core::failureOf(head);
    head_ = std::move(*head);
    headKnown_ = true;
    return {};
}

core::Result<void> UnitOfWork::log(ChangeAction action, std::string_view table, const core::Uuid& row,
                                   const std::vector<LoggedField>& fields) {
    if (outer_ != nullptr)
        return outer_->log(action, table, row, fields);
    if (fields.empty())
        return {};
    if (auto read = readHead(); !read)
        return read;
    auto head = writeChange(session_, head_, action, table, row, fields);
    if (!head)
        return core::failureOf(head);
    head_ = std::move(*head);
    logged_ = true;
    if (!isOfJobs(table))
        shelf_.reset();
    notices_.push_back({std::string(table), row});
    return {};
}

} // namespace milehold::storage
