// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <sqlite3.h>

#include <string>

namespace milehold::test {

/// An open file of a file system that stands before the real one; the real file lies behind it in the same
/// memory.
struct PassingFile {
    sqlite3_file base;
    std::string*
        name; ///< what the file system in front calls it; null: not its own. Freed when the file is closed.
    sqlite3_file* inner() { return reinterpret_cast<sqlite3_file*>(this + 1); }
};

inline PassingFile* passing(sqlite3_file* file) {
    return reinterpret_cast<PassingFile*>(file);
}

/// Operations that hand everything on to the real file; a file system in front replaces those that it cares
/// about.
sqlite3_io_methods passingMethods();

/// SQLite's default file system under another name, with room for PassingFile. `open` must call
/// openPassing().
sqlite3_vfs passingSystem(const sqlite3_vfs& real, const char* name);

/// Opens the real file and puts `methods` before it; `file->name` is null then. As sqlite3_vfs::xOpen.
int openPassing(sqlite3_vfs& real, const sqlite3_io_methods& methods, const char* path, sqlite3_file* file,
                int flags, int* outFlags);

} // namespace milehold::test
