// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/faults/passing_vfs.h"

namespace milehold::test {

namespace {

int closeFile(sqlite3_file* file) {
    delete passing(file)->name; // NOLINT: SQLite owns the memory around it
    return passing(file)->inner()->pMethods->xClose(passing(file)->inner());
}
int readFile(sqlite3_file* file, void* to, int count, sqlite3_int64 at) {
    return passing(file)->inner()->pMethods->xRead(passing(file)->inner(), to, count, at);
}
int writeFile(sqlite3_file* file, const void* from, int count, sqlite3_int64 at) {
    return passing(file)->inner()->pMethods->xWrite(passing(file)->inner(), from, count, at);
}
int truncateFile(sqlite3_file* file, sqlite3_int64 size) {
    return passing(file)->inner()->pMethods->xTruncate(passing(file)->inner(), size);
}
int syncFile(sqlite3_file* file, int flags) {
    return passing(file)->inner()->pMethods->xSync(passing(file)->inner(), flags);
}
int fileSize(sqlite3_file* file, sqlite3_int64* size) {
    return passing(file)->inner()->pMethods->xFileSize(passing(file)->inner(), size);
}
int lockFile(sqlite3_file* file, int level) {
    return passing(file)->inner()->pMethods->xLock(passing(file)->inner(), level);
}
int unlockFile(sqlite3_file* file, int level) {
    return passing(file)->inner()->pMethods->xUnlock(passing(file)->inner(), level);
}
int checkReserved(sqlite3_file* file, int* out) {
    return passing(file)->inner()->pMethods->xCheckReservedLock(passing(file)->inner(), out);
}
int control(sqlite3_file* file, int what, void* argument) {
    return passing(file)->inner()->pMethods->xFileControl(passing(file)->inner(), what, argument);
}
int sectorSize(sqlite3_file* file) {
    return passing(file)->inner()->pMethods->xSectorSize(passing(file)->inner());
}
int characteristics(sqlite3_file* file) {
    return passing(file)->inner()->pMethods->xDeviceCharacteristics(passing(file)->inner());
}

} // namespace

sqlite3_io_methods passingMethods() {
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
}

sqlite3_vfs passingSystem(const sqlite3_vfs& real, const char* name) {
    sqlite3_vfs system = real;
    system.pNext = nullptr;
    system.zName = name;
    system.szOsFile = static_cast<int>(sizeof(PassingFile)) + real.szOsFile;
    return system;
}

int openPassing(sqlite3_vfs& real, const sqlite3_io_methods& methods, const char* path, sqlite3_file* file,
                int flags, int* outFlags) {
    file->pMethods = nullptr;
    const int code = real.xOpen(&real, path, passing(file)->inner(), flags, outFlags);
    if (passing(file)->inner()->pMethods != nullptr) {
        file->pMethods = &methods;
        passing(file)->name = nullptr;
    }
    return code;
}

} // namespace milehold::test
