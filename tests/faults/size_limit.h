// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

namespace milehold::test {

/// Saves jobs under a limit on the size of files until one is refused; the body of a child process. 0: as it
/// should be.
int saveUnderASizeLimit(const char* folder);

} // namespace milehold::test
