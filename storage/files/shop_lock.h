// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"
#include "storage/files/shop_folder.h"
#include "storage/shop.h"

#include <QLockFile>

#include <memory>
#include <optional>

namespace milehold::storage {

/// The one holder of a shop folder; let go when destroyed. The lock of a process that died is taken over.
class ShopLock {
public:
    /// Errors: InUse (the detail names the holder), ReadOnly, DiskProblem.
    static core::Result<std::unique_ptr<ShopLock>> take(const ShopFolder& folder);
    /// Empty when nobody holds it.
    static std::optional<Holder> holder(const ShopFolder& folder);

private:
    explicit ShopLock(const ShopFolder& folder);
    QLockFile file_;
};

} // namespace milehold::storage
