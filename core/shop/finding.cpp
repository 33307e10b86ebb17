// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/shop/finding.h"

#include <algorithm>

namespace milehold::core {

bool hasErrors(const Findings& findings) {
    return std::any_of(findings.begin(), findings.end(),
                       [](const Finding& finding) { return finding.severity == Severity::Error; });
}

} // namespace milehold::core
