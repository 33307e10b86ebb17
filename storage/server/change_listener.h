// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"
#include "storage/server/server_address.h"

#include <QObject>
#include <QSqlDatabase>
#include <QTimer>

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace milehold::storage {

struct ChangeNotice;

/// Hears on a connection of its own what any station has saved. Notices are gathered for a moment and handed
/// over together; an empty list means "look at everything again": after a new connection, after many changes,
/// or when the change log has grown without a notice. Lives on the thread that made it, whose event loop must
/// run.
class ChangeListener : public QObject {
    Q_OBJECT
public:
    using Heard = std::function<void(const std::vector<ChangeNotice>&)>;

    ChangeListener(ServerAddress address, Heard heard);
    ~ChangeListener() override;

    /// Connects and subscribes; later losses of the connection are mended by itself. Errors: those of the
    /// connection.
    core::Result<void> start();

private:
    core::Result<void> connectAnew();
    void drop();
    void look();
    void hear(const QString& payload);
    void handOver();

    ServerAddress address_;
    Heard heard_;
    std::optional<QSqlDatabase> database_;
    QTimer look_;
    QTimer gather_;
    std::vector<ChangeNotice> gathered_;
    bool everything_ = false;
    std::int64_t head_ = 0; ///< of the change log when it was last looked at
};

} // namespace milehold::storage
