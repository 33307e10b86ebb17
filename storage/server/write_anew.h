// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

namespace milehold::storage {

class Session;

/// Has the server write the tables that hold people anew, so that no file of theirs holds removed rows any
/// more: each alone, so that nobody waits for long. `withFiles` takes the photos and sounds too. What it
/// cannot reach: the server's write-ahead log, its dumps, and rows that somebody has been reading since
/// before they were removed.
///
/// False when a table was not written: no right to it (only an owner has it), a server that an older program
/// set up, or others in the way for too long.
[[nodiscard]] bool writePeopleAnew(Session& session, bool withFiles);

} // namespace milehold::storage
