// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"
#include "core/shop/settings.h"

#include <cstdint>
#include <optional>
#include <string>

namespace milehold::storage {

struct ServerSetup {
    std::int64_t from = 0; ///< the schema's version before; 0: there was none
    std::int64_t to = 0;
    bool madeShop = false;
};

/// Makes a database on a server fit for a shop, or brings it up to date: roles, schema, rights, each only
/// where it is missing, one caller at a time. With settings a new shop is made in it. To be run by whoever
/// keeps the server (a role that may create roles and owns the database), after a backup where a shop is
/// there already. Errors: those of the connection; ReadOnly (too few rights); TooNew; InvalidInput (the
/// settings, or a shop is there already).
core::Result<ServerSetup> setUpServer(const std::string& address,
                                      const std::optional<core::ShopSettings>& settings);

/// Makes a shop in a database that is set up and holds none. Errors: as setUpServer().
core::Result<void> makeShopOnServer(const std::string& address, const core::ShopSettings& settings);

} // namespace milehold::storage
