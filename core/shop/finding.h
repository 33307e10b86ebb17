// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstdint>
#include <string>
#include <vector>

namespace milehold::core {

/// An error stops the save; a warning is shown and may be overruled; a hint only informs.
enum class Severity : std::uint8_t { Hint, Warning, Error };

/// What validation found about one field of a record.
struct Finding {
    std::string field; ///< the member's name, e.g. `odometerOut` or `parts[2].number`
    Severity severity = Severity::Error;
    std::string message; ///< one English sentence: what is wrong and what was expected
    friend bool operator==(const Finding&, const Finding&) = default;
};

using Findings = std::vector<Finding>;

bool hasErrors(const Findings& findings);

} // namespace milehold::core
