// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"

#include <map>
#include <string>
#include <string_view>

namespace milehold::storage {

/// Where a shop lies on a server: `postgresql://user@host:port/database?sslmode=verify-full`.
///
/// It never holds a password: libpq finds that in the password file (PGPASSFILE, ~/.pgpass) or a service
/// file.
struct ServerAddress {
    std::string user;     ///< blank: libpq's own choice
    std::string host;     ///< a name, an address, or the folder of a socket; blank: libpq's own choice
    int port = 0;         ///< 0: libpq's own choice
    std::string database; ///< blank: libpq's own choice
    /// sslmode, sslrootcert, sslcert, sslkey, passfile, service
    std::map<std::string, std::string, std::less<>> options;
    friend bool operator==(const ServerAddress&, const ServerAddress&) = default;

    /// This machine itself, by a socket or the loopback network, as far as the address tells.
    bool isLocal() const;
    /// The address as a person writes it.
    std::string text() const;
};

/// Whether a shop's name means a server and not a folder.
bool isServerAddress(std::string_view text);

/// A shop's name as it may be shown: without the password that somebody wrote into an address.
std::string shownName(std::string_view text);

/// Errors: InvalidInput, with what is wrong and what was expected; a password in the address is one.
core::Result<ServerAddress> parseServerAddress(std::string_view text);

} // namespace milehold::storage
