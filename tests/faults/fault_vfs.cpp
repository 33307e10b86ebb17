// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/faults/fault_vfs.h"

#include <sqlite3.h>

#include <cstring>

namespace milehold::test {

namespace {

// One process, one thread, one disk: SQLite's C interface leaves no other place for it.
sqlite3_vfs* real = nullptr; // NOLINT
Fault armed = Fault::Full;   // NOLINT
int left = 0;                // NOLINT: operations until it strikes; 0: disarmed
bool persistent = false;     // NOLINT
bool struck = false;         // NOLINT

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

struct File {
    sqlite3_file base;
    sqlite3_file* inner() { return reinterpret_cast<sqlite3_file*>(this + 1); }
};

File* of(sqlite3_file* file) {
    return reinterpret_cast<File*>(file);
}

int closeFile(sqlite3_file* file) {
    return of(file)->inner()->pMethods->xClose(of(file)->inner());
}
int readFile(sqlite3_file* file, void* to, int count, sqlite3_int64 at) {
    if (strikes(Fault::Read))
        return SQLITE_IOERR_READ;
    return of(file)->inner()->pMethods->xRead(of(file)->inner(), to, count, at);
}
int writeFile(sqlite3_file* file, const void* from, int count, sqlite3_int64 at) {
    if (strikes(Fault::Full))
        return SQLITE_FULL;
    if (strikes(Fault::Write)) {
        // Half of it reaches the disk.
        of(file)->inner()->pMethods->xWrite(of(file)->inner(), from, count / 2, at);
        return SQLITE_IOERR_WRITE;
    }
    return of(file)->inner()->pMethods->xWrite(of(file)->inner(), from, count, at);
}
int truncateFile(sqlite3_file* file, sqlite3_int64 size) {
    if (strikes(Fault::Truncate))
        return SQLITE_IOERR_TRUNCATE;
    return of(file)->inner()->pMethods->xTruncate(of(file)->inner(), size);
}
int syncFile(sqlite3_file* file, int flags) {
    if (strikes(Fault::Sync))
        return SQLITE_IOERR_FSYNC;
    return of(file)->inner()->pMethods->xSync(of(file)->inner(), flags);
}
int fileSize(sqlite3_file* file, sqlite3_int64* size) {
    return of(file)->inner()->pMethods->xFileSize(of(file)->inner(), size);
}
int lockFile(sqlite3_file* file, int level) {
    return of(file)->inner()->pMethods->xLock(of(file)->inner(), level);
}
int unlockFile(sqlite3_file* file, int level) {
    return of(file)->inner()->pMethods->xUnlock(of(file)->inner(), level);
}
int checkReserved(sqlite3_file* file, int* out) {
    return of(file)->inner()->pMethods->xCheckReservedLock(of(file)->inner(), out);
}
int control(sqlite3_file* file, int what, void* argument) {
    return of(file)->inner()->pMethods->xFileControl(of(file)->inner(), what, argument);
}
int sectorSize(sqlite3_file* file) {
    return of(file)->inner()->pMethods->xSectorSize(of(file)->inner());
}
int characteristics(sqlite3_file* file) {
    return of(file)->inner()->pMethods->xDeviceCharacteristics(of(file)->inner());
}

const sqlite3_io_methods kMethods = [] {
    sqlite3_io_methods methods{};
    methods.iVersion = 1;
    methods.xClose = closeFile;
    methods.xRead = readFile;
    methods.xWrite = writeFile;
    methods.xTruncate = truncateFile;
    methods.xSync = syncFile;
    methods.xFileSize = fileSize;
    methods.xLock = lockFile;
    methods.xUnlock = unlockFile;
    methods.xCheckReservedLock = checkReserved;
    methods.xFileControl = control;
    methods.xSectorSize = sectorSize;
    methods.xDeviceCharacteristics = characteristics;
    return methods;
}();

int openFile(sqlite3_vfs*, const char* name, sqlite3_file* file, int flags, int* outFlags) {
    file->pMethods = nullptr;
    const int code = real->xOpen(real, name, of(file)->inner(), flags, outFlags);
    if (of(file)->inner()->pMethods != nullptr)
        file->pMethods = &kMethods;
    return code;
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
    faulty = *real;
    faulty.pNext = nullptr;
    faulty.zName = "faulty";
    faulty.szOsFile = static_cast<int>(sizeof(File)) + real->szOsFile;
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
