// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <filesystem>

namespace milehold::test {

/// Copies the first finished job of a shop until there are `count`, each with its lines, parts, readings and
/// row of the log, and spread over a vehicle for each ten of them.
void multiplyJobs(const std::filesystem::path& file, int count);

} // namespace milehold::test
