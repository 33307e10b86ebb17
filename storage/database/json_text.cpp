// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/database/json_text.h"

namespace milehold::storage {

namespace {

constexpr std::string_view kDigits = "0123456789abcdef";

void appendEscape(std::string& json, char c) {
    json += '\\';
    switch (c) {
    case '"':
    case '\\':
        json += c;
        return;
    case '\b':
        json += 'b';
        return;
    case '\f':
        json += 'f';
        return;
    case '\n':
        json += 'n';
        return;
    case '\r':
        json += 'r';
        return;
    case '\t':
        json += 't';
        return;
    default:
        break;
    }
    const auto code = static_cast<unsigned char>(c);
    json += "u00";
    json += kDigits[code >> 4U];
    json += kDigits[code & 15U];
}

} // namespace

void appendJson(std::string& json, std::string_view text) {
    json += '"';
    std::size_t plain = 0;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const char c = text[i];
        if (c != '"' && c != '\\' && static_cast<unsigned char>(c) >= 0x20)
            continue;
        json += text.substr(plain, i - plain);
        appendEscape(json, c);
        plain = i + 1;
    }
    json += text.substr(plain);
    json += '"';
}

void appendJson(std::string& json, const Value& value) {
    if (const auto* number = std::get_if<std::int64_t>(&value))
        json += std::to_string(*number);
    else if (const auto* text = std::get_if<std::string>(&value))
        appendJson(json, std::string_view(*text));
    else
        json += "null";
}

} // namespace milehold::storage
