// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"
#include "storage/database/migrations.h"
#include "storage/database/session.h"
#include "storage/files/shop_folder.h"
#include "storage/files/shop_lock.h"
#include "storage/files/temporary_folder.h"
#include "storage/server/server_address.h"
#include "storage/shop.h"

#include <memory>
#include <optional>
#include <vector>

namespace milehold::storage {

/// What an open shop holds on to.
struct OpenedShop {
    ShopFolder folder;
    std::unique_ptr<ShopLock> lock;             ///< null when browsing
    std::unique_ptr<TemporaryFolder> temporary; ///< of a browsed backup's copy; outlives the session on it
    std::unique_ptr<Session> session;
    std::optional<ServerAddress> server; ///< of a shop on a server; `folder` is then this station's
    std::unique_ptr<Session> drafts;     ///< keeps what is typed at this station into a shop on a server
};

/// The opening sequence: holder, file system, header, connection with its checks, full check after a shop
/// that was never closed, verified backup and migration. Errors: as Shop::open().
core::Result<OpenedShop> openShop(const ShopFolder& folder, const OpenOptions& options,
                                  const std::vector<Migration>& steps);
/// Errors: as Shop::create(). What was made is removed again.
core::Result<OpenedShop> createShop(const ShopFolder& folder, const core::ShopSettings& settings,
                                    const OpenOptions& options, const std::vector<Migration>& steps);
/// The same without a row of settings, for a shop that comes from elsewhere.
core::Result<OpenedShop> createEmptyShop(const ShopFolder& folder, const OpenOptions& options,
                                         const std::vector<Migration>& steps);
/// Errors: as Shop::browse().
core::Result<OpenedShop> browseBackup(const BackupInfo& backup, const OpenOptions& options,
                                      const std::vector<Migration>& steps);

core::Result<core::ShopSettings> readSettings(Session& session);
core::Result<core::ShopSettings> writeSettings(Session& session, const core::ShopSettings& settings);

} // namespace milehold::storage
