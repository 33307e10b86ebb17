// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

namespace milehold::test {

/// A station that works as fast as it can: saves `jobs` finished jobs on vehicles of its own, and after every
/// fifth adds a word to the one customer whom all stations edit, over their conflicts. 0: until it is killed.
/// A line each: `try UUID`, then `ok UUID MS`, `no UUID` (the store says it was not saved) or `unknown UUID`;
/// `word` and `conflict`; `error CODE DETAIL` for anything that is neither a conflict nor an outage. A save
/// that did not arrive is not repeated.
int writeToServer(const char* address, int jobs, int mark);

/// A station that only looks: asks the server four times a second whether it answers. A line each: `ready`,
/// `asks` before each question, then `online` or `offline` with the milliseconds that the answer took. Until
/// it is killed.
int watchServer(const char* address);

} // namespace milehold::test
