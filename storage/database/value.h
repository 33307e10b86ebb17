// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstdint>
#include <string>
#include <utility>
#include <variant>

namespace milehold::storage {

/// What a column holds: NULL, a whole number, or UTF-8 text. Nothing else is stored.
using Value = std::variant<std::monostate, std::int64_t, std::string>;

inline Value textValue(std::string text) {
    return Value(std::in_place_type<std::string>, std::move(text));
}
inline Value intValue(std::int64_t number) {
    return Value(std::in_place_type<std::int64_t>, number);
}
inline bool isNull(const Value& value) {
    return std::holds_alternative<std::monostate>(value);
}

} // namespace milehold::storage
