// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstdint>
#include <filesystem>
#include <map>
#include <string>
#include <vector>

namespace milehold::test {

/// What of the writes that no sync has made durable is on the disk when the power fails.
enum class Survives : std::uint8_t {
    All,       ///< everything: the cut only stops the program
    None,      ///< nothing: the disk kept it all in its memory
    SomePages, ///< any pages in any order, drawn at random
    TornLast   ///< everything, and half of the last write
};

/// Records SQLite's file operations below one folder, and lays out what a disk holds after a power cut behind
/// any of them. A file system of SQLite's own interface, beneath Qt's connections too.
///
/// A new file and a removal are durable at once: no journal of ours is ever removed (journal_mode TRUNCATE),
/// and the folder of a new one is synced by SQLite before it is used.
class PowerCutDisk {
public:
    /// Takes the place of SQLite's default file system until end(); `folder` holds what is there before.
    static void record(const std::filesystem::path& folder);
    static void end();
    /// How many operations were recorded so far.
    static std::size_t operations();
    /// Writes the files of `folder` as they are after the first `count` operations and a power cut into `to`.
    /// Calls must not go back: `count` grows.
    static void imageAfter(std::size_t count, Survives what, std::uint64_t seed,
                           const std::filesystem::path& to);
};

} // namespace milehold::test
