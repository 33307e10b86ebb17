// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/files/durable.h"

#include "storage/files/descriptor.h"

#include <array>
#include <cerrno>
#include <cstdio>
#include <cstring>
#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>
#include <utility>

namespace milehold::storage {

using core::ErrorCode;
namespace fs = std::filesystem;

namespace {

tl::unexpected<core::Error> failed(std::string_view what) {
    return tl::unexpected(systemError(errno, what));
}

bool writeAll(int descriptor, std::string_view bytes) {
    while (!bytes.empty()) {
        const auto written = ::write(descriptor, bytes.data(), bytes.size());
        if (written < 0 && errno == EINTR)
            continue;
        if (written <= 0)
            return false;
        bytes.remove_prefix(static_cast<std::size_t>(written));
    }
    return true;
}

core::Result<void> finish(Descriptor& file, const fs::path& path, std::string_view what) {
    if (::fsync(file.number()) != 0 || !file.close())
        return failed(what);
    return syncFolder(path.parent_path());
}

} // namespace

core::Error systemError(int number, std::string_view what) {
    ErrorCode code = ErrorCode::DiskProblem;
    if (number == EACCES || number == EPERM || number == EROFS)
        code = ErrorCode::ReadOnly;
    if (number == ENOENT || number == ENOTDIR)
        code = ErrorCode::NotFound;
    return {code, std::string(what) + ": " + std::strerror(number)};
}

core::Result<void> makeFolder(const fs::path& folder) {
    if (::mkdir(folder.c_str(), 0700) == 0)
        return syncFolder(folder.parent_path());
    if (errno != EEXIST)
        return failed("make a folder");
    std::error_code problem;
    if (!fs::is_directory(folder, problem))
        return failed("make a folder");
    return {};
}

core::Result<void> syncFolder(const fs::path& folder) {
    // The parent of a bare file name is blank: the folder that the process is in.
    const fs::path named = folder.empty() ? fs::path(".") : folder;
    const Descriptor opened(::open(named.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
    if (!opened)
        return failed("sync a folder");
    // EINVAL: some file systems of sticks and network disks cannot sync a folder (fsync(2)); shops never lie
    // there, copies of their backups may.
    if (::fsync(opened.number()) != 0 && errno != EINVAL)
        return failed("sync a folder");
    return {};
}

core::Result<void> syncFile(const fs::path& file) {
    const Descriptor opened(::open(file.c_str(), O_RDONLY | O_CLOEXEC));
    if (!opened || ::fsync(opened.number()) != 0)
        return failed("sync a file");
    return {};
}

core::Result<void> createFile(const fs::path& file, std::string_view bytes) {
    Descriptor made(::open(file.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0600));
    if (!made || !writeAll(made.number(), bytes))
        return failed("write a file");
    return finish(made, file, "write a file");
}

core::Result<void> removeFile(const fs::path& file) {
    if (::unlink(file.c_str()) != 0 && errno != ENOENT)
        return failed("remove a file");
    return syncFolder(file.parent_path());
}

core::Result<void> renameFile(const fs::path& from, const fs::path& to) {
    if (::rename(from.c_str(), to.c_str()) != 0)
        return failed("rename a file");
    if (auto synced = syncFolder(to.parent_path()); !synced)
        return synced;
    return from.parent_path() == to.parent_path() ? core::Result<void>() : syncFolder(from.parent_path());
}

core::Result<void> copyFile(const fs::path& from, const fs::path& to) {
    const Descriptor source(::open(from.c_str(), O_RDONLY | O_CLOEXEC));
    if (!source)
        return failed("read a file to copy");
    Descriptor made(::open(to.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0600));
    if (!made)
        return failed("write a copy");
    std::array<char, 1 << 16> block{};
    while (true) {
        const auto got = ::read(source.number(), block.data(), block.size());
        if (got < 0 && errno == EINTR)
            continue;
        if (got < 0)
            return failed("read a file to copy");
        if (got == 0)
            return finish(made, to, "write a copy");
        if (!writeAll(made.number(), {block.data(), static_cast<std::size_t>(got)}))
            return failed("write a copy");
    }
}

core::Result<std::string> readFile(const fs::path& file, std::size_t most) {
    const Descriptor source(::open(file.c_str(), O_RDONLY | O_CLOEXEC));
    if (!source)
        return failed("read a file");
    std::string bytes;
    std::array<char, 1 << 14> block{};
    while (true) {
        const auto got = ::read(source.number(), block.data(), block.size());
        if (got < 0 && errno == EINTR)
            continue;
        if (got < 0)
            return failed("read a file");
        if (got == 0)
            return bytes;
        bytes.append(block.data(), static_cast<std::size_t>(got));
        if (bytes.size() > most)
            return core::fail(ErrorCode::Unreadable, "a file is larger than it can be");
    }
}

std::string stamp(core::Moment at) {
    std::string text;
    for (const char c : core::toIso(at)) {
        if (c == '.')
            break;
        if (c != ':')
            text += c;
    }
    return text + "Z";
}

} // namespace milehold::storage
