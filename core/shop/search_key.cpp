// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/shop/search_key.h"

namespace milehold::core {

std::string plateKey(std::string_view plate) {
    std::string key;
    for (const char c : plate) {
        if (c >= 'a' && c <= 'z')
            key += static_cast<char>(c - 'a' + 'A');
        else if ((c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || static_cast<unsigned char>(c) >= 0x80)
            key += c;
    }
    return key;
}

std::string phoneKey(std::string_view phone) {
    std::string key;
    for (const char c : phone)
        if (c >= '0' && c <= '9')
            key += c;
    if (key.starts_with("00"))
        key.erase(0, 2);
    return key;
}

} // namespace milehold::core
