// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/database/session.h"

#include "storage/database/sql_error.h"
#include "storage/database/text.h"

#include <algorithm>
#include <cassert>

namespace milehold::storage {

namespace {

/// `:name` outside quotes and comments; our own SQL only, so nothing fancier is needed.
std::vector<std::string> placeholdersOf(std::string_view sql) {
    std::vector<std::string> names;
    const auto isWord = [](char c) {
        return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_';
    };
    for (std::size_t i = 0; i < sql.size(); ++i) {
        if (sql[i] == '\'') {
            i = sql.find('\'', i + 1);
            if (i == std::string_view::npos)
                break;
        } else if (sql[i] == ':' && i + 1 < sql.size() && isWord(sql[i + 1])) {
            std::size_t end = i + 1;
            while (end < sql.size() && isWord(sql[end]))
                ++end;
            std::string name(sql.substr(i, end - i));
            if (std::ranges::find(names, name) == names.end())
                names.push_back(std::move(name));
            i = end - 1;
        }
    }
    return names;
}

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
    if (isConnected())
        return {};
    auto opened = opener_();
    if (!opened)
        return core::failureOf(opened);
    database_ = std::move(*opened);
    return {};
}

void Session::disconnect() {
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
    auto& kept = prepared_[std::string(sql)];
    const auto isFree = std::ranges::find_if(kept, [](const auto& one) { return !one->leased; });
    if (isFree != kept.end()) {
        (*isFree)->leased = true;
        return *isFree;
    }
    auto fresh = std::make_shared<Prepared>(*database_);
    fresh->query.setForwardOnly(true);
    if (!fresh->query.prepare(toQt(sql)))
        return tl::unexpected(sqlError(fresh->query.lastError(), what));
    fresh->names = placeholdersOf(sql);
    for (const auto& name : fresh->names)
        fresh->keys.push_back(toQt(name));
    fresh->leased = true;
    kept.push_back(fresh);
    return fresh;
}

void Session::giveBack(Prepared& prepared) {
    // A statement that is read half holds its lock on the file until it is finished.
    prepared.query.finish();
    prepared.leased = false;
}

void Session::announce(const std::vector<ChangeNotice>& notices) const {
    if (listener_ && !notices.empty())
        listener_(notices);
}

} // namespace milehold::storage
