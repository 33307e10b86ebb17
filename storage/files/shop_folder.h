// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <filesystem>

namespace milehold::storage {

/// Where things lie in a shop folder `NAME.milehold/`. Closed, the folder can be copied whole.
struct ShopFolder {
    std::filesystem::path root;

    std::filesystem::path lock() const { return root / "app.lock"; }
    std::filesystem::path store() const { return root / "store"; }
    std::filesystem::path database() const { return store() / "shop.db"; }
    std::filesystem::path attachments() const { return store() / "attachments"; }
    /// Stands while the shop is open: found at an open, it tells of a shop that was never closed.
    std::filesystem::path openMark() const { return store() / "open.mark"; }
    std::filesystem::path backups() const { return root / "backups"; }
    std::filesystem::path logs() const { return root / "logs"; }
};

inline constexpr auto kFolderSuffix = ".milehold";

} // namespace milehold::storage
