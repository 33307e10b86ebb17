// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <string_view>

namespace milehold::core {

/// Letters raised and digits, everything else dropped: `ab-12 c` and `AB12C` are one plate. Bytes outside
/// ASCII stay.
std::string plateKey(std::string_view plate);

/// Digits only, an international `00` at the front dropped like a `+`; its last digits find a number in
/// either form.
std::string phoneKey(std::string_view phone);

} // namespace milehold::core
