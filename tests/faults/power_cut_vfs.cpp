// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/faults/power_cut_vfs.h"

#include "tests/faults/passing_vfs.h"

#include <sqlite3.h>

#include <fstream>
#include <random>

namespace milehold::test {

namespace {

namespace fs = std::filesystem;

enum class Kind { Open, Write, Truncate, Sync, Remove };

struct Operation {
    Kind kind = Kind::Open;
    std::string file;
    std::int64_t at = 0; ///< of a write; the size of a truncation
    std::string bytes;
};

/// The replay of the operations up to a point.
struct Disk {
    std::map<std::string, std::string> durable;
    std::map<std::string, std::vector<Operation>> pending; ///< per file, since its last sync
    std::size_t done = 0;
};

// One process, one thread, one disk: SQLite's C interface leaves no other place for it.
sqlite3_vfs* real = nullptr;     // NOLINT
sqlite3_vfs recorder;            // NOLINT: SQLite keeps the pointer
fs::path watched;                // NOLINT
std::vector<Operation> recorded; // NOLINT
Disk disk;                       // NOLINT

const sqlite3_io_methods kPass = passingMethods();

void note(sqlite3_file* file, Kind kind, std::int64_t at = 0, std::string bytes = {}) {
    if (passing(file)->name != nullptr)
        recorded.push_back({kind, *passing(file)->name, at, std::move(bytes)});
}

int writeFile(sqlite3_file* file, const void* from, int count, sqlite3_int64 at) {
    note(file, Kind::Write, at, std::string(static_cast<const char*>(from), static_cast<std::size_t>(count)));
    return kPass.xWrite(file, from, count, at);
}
int truncateFile(sqlite3_file* file, sqlite3_int64 size) {
    note(file, Kind::Truncate, size);
    return kPass.xTruncate(file, size);
}
int syncFile(sqlite3_file* file, int flags) {
    note(file, Kind::Sync);
    return kPass.xSync(file, flags);
}
int characteristics(sqlite3_file*) {
    return 0; // promises nothing, not even that small writes are whole
}

const sqlite3_io_methods kMethods = [] {
    sqlite3_io_methods methods = passingMethods();
    methods.xWrite = writeFile;
    methods.xTruncate = truncateFile;
    methods.xSync = syncFile;
    methods.xDeviceCharacteristics = characteristics;
    return methods;
}();

std::string* nameBelow(const char* path) {
    if (path == nullptr)
        return nullptr;
    const std::string text = path;
    const std::string folder = watched.string() + "/";
    return text.starts_with(folder) ? new std::string(text.substr(folder.size())) : nullptr; // NOLINT
}

int openFile(sqlite3_vfs*, const char* name, sqlite3_file* file, int flags, int* outFlags) {
    const int code = openPassing(*real, kMethods, name, file, flags, outFlags);
    if (file->pMethods == nullptr)
        return code;
    passing(file)->name = nameBelow(name);
    note(file, Kind::Open);
    return code;
}
int deleteFile(sqlite3_vfs*, const char* name, int sync) {
    if (std::string* below = nameBelow(name)) {
        recorded.push_back({Kind::Remove, *below, 0, {}});
        delete below; // NOLINT
    }
    return real->xDelete(real, name, sync);
}

void lay(std::string& content, const Operation& operation) {
    if (operation.kind == Kind::Truncate) {
        content.resize(static_cast<std::size_t>(operation.at));
        return;
    }
    const auto end = static_cast<std::size_t>(operation.at) + operation.bytes.size();
    if (content.size() < end)
        content.resize(end);
    content.replace(static_cast<std::size_t>(operation.at), operation.bytes.size(), operation.bytes);
}

void advanceTo(std::size_t count) {
    for (; disk.done < count; ++disk.done) {
        const auto& operation = recorded[disk.done];
        switch (operation.kind) {
        case Kind::Open:
            disk.durable[operation.file];
            break;
        case Kind::Write:
        case Kind::Truncate:
            disk.pending[operation.file].push_back(operation);
            break;
        case Kind::Sync:
            for (const auto& waiting : disk.pending[operation.file])
                lay(disk.durable[operation.file], waiting);
            disk.pending[operation.file].clear();
            break;
        case Kind::Remove:
            disk.durable.erase(operation.file);
            disk.pending.erase(operation.file);
            break;
        }
    }
}

void addSurvivors(std::string& content, const std::vector<Operation>& pending, Survives what,
                  std::mt19937_64& random) {
    if (what == Survives::None)
        return;
    for (std::size_t i = 0; i < pending.size(); ++i) {
        const bool isLast = i + 1 == pending.size();
        if (what == Survives::SomePages && random() % 2 == 0)
            continue;
        if (what == Survives::TornLast && isLast && pending[i].kind == Kind::Write) {
            Operation torn = pending[i];
            torn.bytes.resize(torn.bytes.size() / 2);
            lay(content, torn);
            continue;
        }
        lay(content, pending[i]);
    }
}

} // namespace

void PowerCutDisk::record(const fs::path& folder) {
    watched = folder;
    recorded.clear();
    disk = Disk();
    for (const auto& entry : fs::directory_iterator(folder)) {
        if (!entry.is_regular_file())
            continue;
        std::ifstream in(entry.path(), std::ios::binary);
        disk.durable[entry.path().filename().string()] =
            std::string(std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>());
    }
    real = sqlite3_vfs_find(nullptr);
    recorder = passingSystem(*real, "power-cut");
    recorder.xOpen = openFile;
    recorder.xDelete = deleteFile;
    sqlite3_vfs_register(&recorder, 1);
}

void PowerCutDisk::end() {
    sqlite3_vfs_unregister(&recorder);
    sqlite3_vfs_register(real, 1);
}

std::size_t PowerCutDisk::operations() {
    return recorded.size();
}

void PowerCutDisk::imageAfter(std::size_t count, Survives what, std::uint64_t seed, const fs::path& to) {
    advanceTo(count);
    std::mt19937_64 random(seed);
    fs::remove_all(to);
    fs::create_directory(to);
    for (const auto& [name, durable] : disk.durable) {
        std::string content = durable;
        if (const auto pending = disk.pending.find(name); pending != disk.pending.end())
            addSurvivors(content, pending->second, what, random);
        std::ofstream(to / name, std::ios::binary) << content;
    }
}

} // namespace milehold::test
