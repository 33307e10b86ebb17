// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/shop/id.h"

namespace milehold::core {

namespace {

constexpr std::size_t kTextSize = 36;

bool isHyphenPlace(std::size_t i) {
    return i == 8 || i == 13 || i == 18 || i == 23;
}

int hexDigit(char c) {
    if (c >= '0' && c <= '9')
        return c - '0';
    if (c >= 'a' && c <= 'f')
        return c - 'a' + 10;
    if (c >= 'A' && c <= 'F')
        return c - 'A' + 10;
    return -1;
}

} // namespace

std::string toString(const Uuid& uuid) {
    static constexpr char kHex[] = "0123456789abcdef";
    std::string text;
    text.reserve(kTextSize);
    for (const auto byte : uuid.bytes) {
        if (isHyphenPlace(text.size()))
            text += '-';
        text += kHex[byte >> 4U];
        text += kHex[byte & 0x0FU];
    }
    return text;
}

std::optional<Uuid> uuidFromString(std::string_view text) {
    if (text.size() != kTextSize)
        return std::nullopt;
    Uuid uuid;
    std::size_t at = 0;
    for (auto& byte : uuid.bytes) {
        if (isHyphenPlace(at) && text[at++] != '-')
            return std::nullopt;
        const int high = hexDigit(text[at]);
        const int low = hexDigit(text[at + 1]);
        if (high < 0 || low < 0)
            return std::nullopt;
        byte = static_cast<std::uint8_t>(high * 16 + low);
        at += 2;
    }
    return uuid;
}

} // namespace milehold::core
