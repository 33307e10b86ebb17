// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/faults/fault_vfs.h"

#include "tests/faults/passing_vfs.h"

#include <sqlite3.h>

namespace milehold::test {

namespace {

// One process, one thread, one disk: SQLite's C interface leaves no other place for it.
sqlite3_vfs* real = nullptr; // NOLINT
Fault armed = Fault::Full;   // NOLINT
int left = 0;                // NOLINT: operations until it strikes; 0: disarmed
bool persistent = false;     // NOLINT
bool struck = false;         // NOLINT

const sqlite3_io_methods kPass = passingMethods();

bool strikes(Fault fault) {
    if (left == 0 || fault != armed)
        return false;
    if (left > 1) {
        --left;
        return false;
    }
    if (!persistent)
        left = 0;
    struck = true;
    return true;
}

int readFile(sqlite3_file* file, void* to, int count, sqlite3_int64 at) {
    return strikes(Fault::Read) ? SQLITE_IOERR_READ : kPass.xRead(file, to, count, at);
}
int writeFile(sqlite3_file* file, const void* from, int count, sqlite3_int64 at) {
    if (strikes(Fault::Full))
        return SQLITE_FULL;
    if (strikes(Fault::Write)) {
        // Half of it reaches the disk.
        kPass.xWrite(file, from, count / 2, at);
        return SQLITE_IOERR_WRITE;
    }
    return kPass.xWrite(file, from, count, at);
}
int truncateFile(sqlite3_file* file, sqlite3_int64 size) {
    return strikes(Fault::Truncate) ? SQLITE_IOERR_TRUNCATE : kPass.xTruncate(file, size);
}
int syncFile(sqlite3_file* file, int flags) {
    return strikes(Fault::Sync) ? SQLITE_IOERR_FSYNC : kPass.xSync(file, flags);
}

const sqlite3_io_methods kMethods = [] {
    sqlite3_io_methods methods = passingMethods();
    methods.xRead = readFile;
    methods.xWrite = writeFile;
    methods.xTruncate = truncateFile;
    methods.xSync = syncFile;
    return methods;
}();

int openFile(sqlite3_vfs*, const char* name, sqlite3_file* file, int flags, int* outFlags) {
    return openPassing(*real, kMethods, name, file, flags, outFlags);
}
int deleteFile(sqlite3_vfs*, const char* name, int sync) {
    if (strikes(Fault::Delete))
        return SQLITE_IOERR_DELETE;
    return real->xDelete(real, name, sync);
}

sqlite3_vfs faulty; // NOLINT: SQLite keeps the pointer

} // namespace

void FaultyDisk::install() {
    if (real != nullptr)
        return;
    real = sqlite3_vfs_find(nullptr);
    faulty = passingSystem(*real, "faulty");
    faulty.xOpen = openFile;
    faulty.xDelete = deleteFile;
    sqlite3_vfs_register(&faulty, 1);
}

void FaultyDisk::arm(Fault fault, int at, bool forGood) {
    armed = fault;
    left = at;
    persistent = forGood;
    struck = false;
}

void FaultyDisk::disarm() {
    left = 0;
}

bool FaultyDisk::hasStruck() {
    return struck;
}

} // namespace milehold::test
