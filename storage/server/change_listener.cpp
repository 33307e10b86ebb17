// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/server/change_listener.h"

#include "storage/database/dialect.h"
#include "storage/database/statement.h"
#include "storage/database/text.h"
#include "storage/offline.h"
#include "storage/server/postgresql_connection.h"
#include "storage/shop.h"

#include <QSqlDriver>
#include <QVariant>

namespace milehold::storage {

namespace {

constexpr int kLookEvery =
    2000; // ms: a lost connection is noticed within two of these and the network's patience
constexpr int kGatherFor = 150; // ms: an import of a thousand jobs is one refresh
constexpr std::size_t kMostGathered = 500;

} // namespace

ChangeListener::ChangeListener(ServerAddress address, Heard heard)
    : address_(std::move(address)), heard_(std::move(heard)) {
    look_.setInterval(kLookEvery);
    connect(&look_, &QTimer::timeout, this, &ChangeListener::look);
    gather_.setSingleShot(true);
    gather_.setInterval(kGatherFor);
    connect(&gather_, &QTimer::timeout, this, &ChangeListener::handOver);
}

ChangeListener::~ChangeListener() {
    drop();
}

core::Result<void> ChangeListener::start() {
    look_.start();
    return connectAnew();
}

core::Result<void> ChangeListener::connectAnew() {
    auto opened = openPostgresql(address_, "notices");
    if (!opened)
        return core::failureOf(opened);
    database_ = std::move(*opened);
    QSqlDriver* const driver = database_->driver();
    connect(driver, &QSqlDriver::notification, this,
            [this](const QString&, QSqlDriver::NotificationSource, const QVariant& payload) {
                hear(payload.toString());
            });
    if (!driver->subscribeToNotification(toQt(dialect::kServerSchema))) {
        drop();
        return tl::unexpected(offlineError("the server takes no listener for changes"));
    }
    return {};
}

void ChangeListener::drop() {
    if (!database_)
        return;
    database_->driver()->disconnect(this);
    closeConnection(*database_);
    database_.reset();
}

void ChangeListener::look() {
    if (database_ && !askPlain(*database_, "SELECT 1", "look for the server"))
        drop();
    if (!database_) {
        if (!connectAnew())
            return;
        // What was saved while nobody listened is not told again.
        everything_ = true;
        gather_.start();
    }
    const auto head =
        askPlain(*database_, "SELECT coalesce(max(seq), 0) FROM change_log", "look for changes");
    if (!head) {
        drop();
        return;
    }
    const auto* number = std::get_if<std::int64_t>(&*head);
    if (number == nullptr || *number == head_)
        return;
    // A net below the notices: the log has grown, and nothing was heard of it.
    if (head_ != 0 && gathered_.empty() && !gather_.isActive()) {
        everything_ = true;
        gather_.start();
    }
    head_ = *number;
}

void ChangeListener::hear(const QString& payload) {
    const auto parts = payload.split(QLatin1Char(' '));
    const auto row = parts.size() == 2 ? core::uuidFromString(parts[1].toStdString()) : std::nullopt;
    if (!row || gathered_.size() >= kMostGathered)
        everything_ = true;
    else
        gathered_.push_back({parts[0].toStdString(), *row});
    if (!gather_.isActive())
        gather_.start();
}

void ChangeListener::handOver() {
    std::vector<ChangeNotice> notices;
    if (!everything_)
        notices.swap(gathered_);
    gathered_.clear();
    everything_ = false;
    if (database_) {
        if (const auto head =
                askPlain(*database_, "SELECT coalesce(max(seq), 0) FROM change_log", "look for changes");
            head && std::holds_alternative<std::int64_t>(*head))
            head_ = std::get<std::int64_t>(*head);
    }
    heard_(notices);
}

} // namespace milehold::storage
