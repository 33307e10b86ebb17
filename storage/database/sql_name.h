// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <algorithm>
#include <cstdint>
#include <string>
#include <string_view>

namespace milehold::storage {

// What a statement may be put together from. Values are bound. A rule test reads every `+` beside SQL in this
// library and takes literals, constants (kName), what these two return, and pieces whose name ends in Sql.

/// The name of a table or column as a part of a statement: ours as it is; any other, which only a damaged or
/// foreign file can hold, in quotation marks, so that it is a name and nothing else.
inline std::string sqlName(std::string_view name) {
    const bool isPlain = !name.empty() && std::ranges::all_of(name, [](char c) {
        return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_';
    });
    if (isPlain)
        return std::string(name);
    std::string quoted = "\"";
    for (const char c : name)
        quoted += c == '"' ? std::string("\"\"") : std::string(1, c);
    return quoted + '"';
}

/// A whole number as a part of a statement, where the engine binds none.
inline std::string sqlNumber(std::int64_t number) {
    return std::to_string(number);
}

} // namespace milehold::storage
