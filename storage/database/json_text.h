// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "storage/database/value.h"

#include <string>
#include <string_view>

namespace milehold::storage {

/// Appends a text as a JSON string (RFC 8259, 7): UTF-8 as it is, the quotation mark, the backslash and what
/// is below a blank escaped.
void appendJson(std::string& json, std::string_view text);
/// The same of a value: a string, a number, or null.
void appendJson(std::string& json, const Value& value);

} // namespace milehold::storage
