// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quantity/date.h"
#include "core/result.h"
#include "storage/database/prepared.h"
#include "storage/server/server_address.h"
#include "storage/shop.h"
#include "storage/who.h"

#include <QSqlDatabase>

#include <chrono>
#include <cstdint>
#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <thread>
#include <unordered_map>
#include <vector>

namespace milehold::storage {

class ChangeListener;
class UnitOfWork;

/// Looks texts up by a part of another text without making one of their own.
struct TextHash {
    using is_transparent = void;
    std::size_t operator()(std::string_view text) const { return std::hash<std::string_view>()(text); }
};

/// The one connection of an open shop, with who uses it and what time it is. All calls on one thread.
///
/// The connection itself is made by `opener`, so that it can be made again after a commit was cut off.
class Session {
public:
    using Opener = std::function<core::Result<QSqlDatabase>()>;

    Session(Opener opener, std::function<core::Moment()> clock, bool readOnly);
    ~Session();
    Session(const Session&) = delete;
    Session& operator=(const Session&) = delete;

    /// Makes the connection. Errors: those of the opener.
    core::Result<void> connect();
    void disconnect();
    /// Makes the connection anew, unless a statement on it is still in use. Errors: those of the opener;
    /// Offline.
    core::Result<void> reconnect();
    /// A statement found the connection broken: the next use makes it anew.
    void noteLost() { lost_ = true; }
    /// Disconnects for good: every later call fails.
    void close();
    bool isConnected() const { return database_.has_value(); }
    QSqlDatabase& database();

    /// A prepared statement for this text, taken from the kept ones when one is free.
    core::Result<std::shared_ptr<Prepared>> lease(std::string_view sql, std::string_view what);
    void giveBack(Prepared& prepared);

    /// Of a shop on a server: where, and who hears the other stations.
    void setServer(ServerAddress server) { server_ = std::move(server); }
    const std::optional<ServerAddress>& server() const { return server_; }
    void setListener(std::shared_ptr<ChangeListener> listener) { stations_ = std::move(listener); }

    void assertThread() const;
    bool readOnly() const { return readOnly_; }
    core::Moment now() const { return clock_(); }
    void setWho(Who who) { who_ = std::move(who); }
    const Who& who() const { return who_; }

    /// The unit of work that is open now; null between them.
    UnitOfWork* unit() const { return unit_; }
    void setUnit(UnitOfWork* unit) { unit_ = unit; }

    void onChange(std::function<void(const std::vector<ChangeNotice>&)> listener) {
        listener_ = std::move(listener);
    }
    void announce(const std::vector<ChangeNotice>& notices) const;

private:
    Opener opener_;
    std::function<core::Moment()> clock_;
    bool readOnly_ = false;
    bool closed_ = false;
    bool lost_ = false;
    std::chrono::steady_clock::time_point notBefore_; ///< the next try to reach a server that did not answer
    int leases_ = 0;                                  ///< statements in use
    std::thread::id thread_;
    std::optional<QSqlDatabase> database_;
    std::unordered_map<std::string, std::vector<std::shared_ptr<Prepared>>, TextHash, std::equal_to<>>
        prepared_;
    Who who_;
    UnitOfWork* unit_ = nullptr;
    std::optional<ServerAddress> server_;
    std::shared_ptr<ChangeListener> stations_;
    std::function<void(const std::vector<ChangeNotice>&)> listener_;
};

} // namespace milehold::storage
