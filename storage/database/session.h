// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quantity/date.h"
#include "core/result.h"
#include "storage/database/value.h"
#include "storage/shop.h"
#include "storage/who.h"

#include <QSqlDatabase>
#include <QSqlQuery>

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

class UnitOfWork;

/// A prepared statement with the names of its placeholders in the order in which they first appear.
struct Prepared {
    explicit Prepared(const QSqlDatabase& database) : query(database) {}
    QSqlQuery query;
    std::vector<std::string> names;
    std::vector<QString> keys; ///< the same as Qt wants them
    bool leased = false;
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
    /// Disconnects for good: every later call fails.
    void close();
    bool isConnected() const { return database_.has_value(); }
    QSqlDatabase& database();

    /// A prepared statement for this text, taken from the kept ones when one is free.
    core::Result<std::shared_ptr<Prepared>> lease(std::string_view sql, std::string_view what);
    static void giveBack(Prepared& prepared);

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
    std::thread::id thread_;
    std::optional<QSqlDatabase> database_;
    std::unordered_map<std::string, std::vector<std::shared_ptr<Prepared>>> prepared_;
    Who who_;
    UnitOfWork* unit_ = nullptr;
    std::function<void(const std::vector<ChangeNotice>&)> listener_;
};

} // namespace milehold::storage
