// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/database/session.h"

#include "storage/database/dialect.h"
#include "storage/database/sql_error.h"
#include "storage/database/text.h"
#include "storage/offline.h"
#include "storage/server/change_listener.h"

#include <algorithm>
#include <cassert>

namespace milehold::storage {

namespace {

constexpr std::chrono::milliseconds kBetweenTries{1500};

} // namespace

Session::Session(Opener opener, std::function<core::Moment()> clock, bool readOnly)
    : opener_(std::move(opener)), clock_(std::move(clock)), readOnly_(readOnly),
      thread_(std::this_thread::get_id()) {}

Session::~Session() {
    disconnect();
}

void Session::assertThread() const {
    assert(thread_ == std::this_thread::get_id() && "a shop is used on the thread that opened it");
}

core::Result<void> Session::connect() {
    assertThread();
    if (closed_)
        return core::fail(core::ErrorCode::NotFound, "the shop is closed");
    if (isConnected() && lost_ && unit_ != nullptr) // what would follow would stand outside the transaction
        return tl::unexpected(offlineError("the connection to the server was lost"));
    if (isConnected() && lost_)
        return reconnect();
    if (isConnected())
        return {};
    // A server that is away costs a few seconds each time it is looked for: not at every request in between.
    if (std::chrono::steady_clock::now() < notBefore_)
        return tl::unexpected(offlineError("the server does not answer"));
    auto opened = opener_();
    if (!opened && isOffline(opened.error()))
        notBefore_ = std::chrono::steady_clock::now() + kBetweenTries;
    if (!opened)
        return core::failureOf(opened);
    database_ = std::move(*opened);
    lost_ = false;
    return {};
}

core::Result<void> Session::reconnect() {
    if (leases_ > 0)
        return tl::unexpected(offlineError("the connection was lost in the middle of an answer"));
    disconnect();
    return connect();
}

void Session::disconnect() {
    for (const auto& [sql, kept] : prepared_) {
        for (const auto& one : kept)
            one->drop(); // one that is still in use must not keep the file open
    }
    prepared_.clear();
    if (!database_)
        return;
    const QString name = database_->connectionName();
    database_->close();
    database_.reset();
    QSqlDatabase::removeDatabase(name);
}

void Session::close() {
    assertThread();
    stations_.reset();
    disconnect();
    closed_ = true;
}

QSqlDatabase& Session::database() {
    assertThread();
    assert(database_);
    return *database_;
}

core::Result<std::shared_ptr<Prepared>> Session::lease(std::string_view sql, std::string_view what) {
    assertThread();
    // A connection that was lost with a cut-off commit is made anew before anything else is done with it.
    if (auto connected = connect(); !connected)
        return core::failureOf(connected);
    auto kept = prepared_.find(sql);
    if (kept == prepared_.end())
        kept = prepared_.try_emplace(std::string(sql)).first;
    const auto isFree = std::ranges::find_if(kept->second, [](const auto& one) { return !one->leased; });
    if (isFree != kept->second.end()) {
        (*isFree)->leased = true;
        ++leases_;
        return *isFree;
    }
    auto fresh = Prepared::make(*database_, sql, what);
    if (!fresh) {
        if (isOffline(fresh.error()))
            noteLost();
        return fresh;
    }
    (*fresh)->leased = true;
    ++leases_;
    kept->second.push_back(*fresh);
    return fresh;
}

void Session::giveBack(Prepared& prepared) {
    prepared.finish();
    prepared.leased = false;
    --leases_;
}

void Session::announce(const std::vector<ChangeNotice>& notices) const {
    if (listener_ && !notices.empty())
        listener_(notices);
}

} // namespace milehold::storage
