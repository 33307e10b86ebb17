// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/server/server_address.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <optional>

namespace milehold::storage {

using core::ErrorCode;

namespace {

constexpr std::array<std::string_view, 2> kSchemes = {"postgresql://", "postgres://"};
constexpr std::array<std::string_view, 6> kOptions = {"sslmode", "sslrootcert", "sslcert",
                                                      "sslkey",  "passfile",    "service"};
constexpr std::string_view kExpected = "; expected postgresql://user@host:port/database";

tl::unexpected<core::Error> wrong(const std::string& what) {
    return core::fail(ErrorCode::InvalidInput, "the server's address " + what + std::string(kExpected));
}

std::optional<std::string> decoded(std::string_view text) {
    std::string plain;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (text[i] != '%') {
            plain += text[i];
            continue;
        }
        unsigned byte = 0;
        if (i + 2 >= text.size())
            return std::nullopt;
        const auto* const end = text.data() + i + 3;
        const auto [stopped, problem] = std::from_chars(text.data() + i + 1, end, byte, 16);
        if (problem != std::errc() || stopped != end || byte < 0x20)
            return std::nullopt;
        plain += static_cast<char>(byte);
        i += 2;
    }
    return plain;
}

std::string encoded(std::string_view text) {
    constexpr std::string_view kPlain = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-._~";
    constexpr std::string_view kDigits = "0123456789ABCDEF";
    std::string safe;
    for (const char c : text) {
        if (kPlain.find(c) != std::string_view::npos) {
            safe += c;
            continue;
        }
        const auto byte = static_cast<unsigned char>(c);
        safe += '%';
        safe += kDigits[byte >> 4U];
        safe += kDigits[byte & 0xFU];
    }
    return safe;
}

/// Splits `text` at the first `sign`: the part before stays in `text`.
std::string_view cutAt(std::string_view& text, char sign) {
    const auto at = text.find(sign);
    if (at == std::string_view::npos)
        return {};
    const auto rest = text.substr(at + 1);
    text = text.substr(0, at);
    return rest;
}

/// The part from which a value reaches the connection's options, where these end a value.
bool isPlainValue(std::string_view value) {
    return std::ranges::none_of(value,
                                [](char c) { return c == ';' || static_cast<unsigned char>(c) < 0x20; });
}

core::Result<void> readHost(std::string_view text, ServerAddress& address) {
    std::string_view port;
    if (text.starts_with('[')) {
        const auto end = text.find(']');
        if (end == std::string_view::npos)
            return wrong("has a '[' without its ']'");
        address.host = std::string(text.substr(1, end - 1));
        port = text.substr(end + 1);
        if (!port.empty() && !port.starts_with(':'))
            return wrong("has something else than a port behind ']'");
        if (!port.empty())
            port.remove_prefix(1);
    } else {
        port = cutAt(text, ':');
        const auto host = decoded(text);
        if (!host || host->find(',') != std::string::npos)
            return wrong("names no single host");
        address.host = *host;
    }
    if (port.empty())
        return {};
    const auto [stopped, problem] = std::from_chars(port.data(), port.data() + port.size(), address.port);
    if (problem != std::errc() || stopped != port.data() + port.size() || address.port < 1 ||
        address.port > 65535)
        return wrong("has no port between 1 and 65535 behind its host");
    return {};
}

core::Result<void> readOptions(std::string_view text, ServerAddress& address) {
    while (!text.empty()) {
        std::string_view one = text;
        text = cutAt(one, '&');
        const auto value = decoded(cutAt(one, '='));
        if (one == "password")
            return wrong("holds a password: keep it in the password file (~/.pgpass or PGPASSFILE)");
        if (!value)
            return wrong("has a broken '%' in an option");
        if (one == "host") {
            address.host = *value;
        } else if (std::ranges::find(kOptions, one) != kOptions.end() && !value->empty()) {
            address.options.insert_or_assign(std::string(one), *value);
        } else {
            return wrong("has an option that is not one of host, sslmode, sslrootcert, sslcert, sslkey, "
                         "passfile, service");
        }
    }
    return {};
}

} // namespace

bool isServerAddress(std::string_view text) {
    return std::ranges::any_of(kSchemes, [&](auto scheme) { return text.starts_with(scheme); });
}

std::string shownName(std::string_view text) {
    std::string shown(text);
    if (!isServerAddress(text))
        return shown;
    const auto begin = shown.find("://") + 3;
    const auto end = shown.find_first_of("/?", begin);
    const auto at = shown.rfind('@', end);
    const auto colon = shown.find(':', begin);
    if (at != std::string::npos && colon < at)
        shown.erase(colon, at - colon);
    if (const auto word = shown.find("password="); word != std::string::npos)
        shown.erase(word, shown.find('&', word) - word);
    return shown;
}

core::Result<ServerAddress> parseServerAddress(std::string_view text) {
    const auto scheme =
        std::ranges::find_if(kSchemes, [&](std::string_view one) { return text.starts_with(one); });
    if (scheme == kSchemes.end())
        return wrong("does not begin with postgresql://");
    text.remove_prefix(scheme->size());
    ServerAddress address;
    const auto options = cutAt(text, '?');
    const auto database = decoded(cutAt(text, '/'));
    if (!database)
        return wrong("has a broken '%' in the database's name");
    address.database = *database;
    std::string_view host = text;
    if (const auto at = text.rfind('@'); at != std::string_view::npos) {
        const auto user = decoded(text.substr(0, at));
        if (text.substr(0, at).find(':') != std::string_view::npos)
            return wrong("holds a password: keep it in the password file (~/.pgpass or PGPASSFILE)");
        if (!user)
            return wrong("has a broken '%' in the user's name");
        address.user = *user;
        host = text.substr(at + 1);
    }
    if (auto read = readHost(host, address); !read)
        return core::failureOf(read);
    if (auto read = readOptions(options, address); !read)
        return core::failureOf(read);
    for (const auto& value : {address.user, address.host, address.database})
        if (!isPlainValue(value))
            return wrong("holds a sign that no name may have");
    for (const auto& [name, value] : address.options)
        if (!isPlainValue(value))
            return wrong("holds a sign that no option may have");
    const auto mode = address.options.find("sslmode");
    if (mode != address.options.end() && !address.isLocal() && mode->second != "verify-full" &&
        mode->second != "verify-ca" && mode->second != "require")
        return wrong("asks for a connection to another machine that may be unencrypted (sslmode): use "
                     "verify-full, or verify-ca or require");
    return address;
}

bool ServerAddress::isLocal() const {
    return host.empty() || host.starts_with('/') || host.starts_with('@') || host == "localhost" ||
           host == "::1" || host.starts_with("127.");
}

std::string ServerAddress::text() const {
    std::string url(kSchemes[0]);
    if (!user.empty())
        url += encoded(user) + "@";
    std::string tail;
    if (host.starts_with('/')) {
        tail = "?host=" + encoded(host);
    } else {
        url += host.find(':') == std::string::npos ? encoded(host) : "[" + host + "]";
    }
    if (port != 0)
        url += ":" + std::to_string(port);
    url += "/" + encoded(database);
    for (const auto& [name, value] : options) {
        tail += tail.empty() ? '?' : '&';
        tail += name + "=" + encoded(value);
    }
    return url + tail;
}

} // namespace milehold::storage
