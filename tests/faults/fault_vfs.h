// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

namespace milehold::test {

enum class Fault { Full, Write, Sync, Truncate, Delete, Read };

/// Makes SQLite's file operations of this process fail on demand: a file system of SQLite's own interface
/// that hands everything on to the real one and is asked first. It also sits under Qt's connections, which
/// use the same library.
class FaultyDisk {
public:
    /// Takes the place of SQLite's default file system; before any connection is opened.
    static void install();
    /// The `at`-th operation of this kind from now fails, and with `forGood` each one after it.
    static void arm(Fault fault, int at, bool forGood);
    static void disarm();
    /// Whether an operation has failed since arm().
    static bool hasStruck();
};

} // namespace milehold::test
