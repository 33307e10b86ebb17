// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace milehold::storage {

/// SHA-256 (FIPS 180-4) in hexadecimal, lower case.
std::string sha256(std::string_view bytes);
/// HMAC with SHA-256 (RFC 2104) in hexadecimal, lower case.
std::string hmacSha256(std::string_view key, std::string_view bytes);
/// SHA-256 of a file; empty when it cannot be read. Never for the open `shop.db`: closing it would drop its
/// locks.
std::optional<std::string> sha256OfFile(const std::filesystem::path& file);
/// 256 random bits in hexadecimal.
std::string randomKey();

/// The hash of one row of a chain: SHA-256 over the parts, each preceded by its length in bytes and a colon,
/// so that no two lists of parts read the same.
std::string chainHash(const std::vector<std::string_view>& parts);

} // namespace milehold::storage
