// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/files/file_check.h"

#include "storage/database/dialect.h"
#include "storage/files/durable.h"

#include <QStorageInfo>

#include <algorithm>
#include <array>
#include <cerrno>
#include <cstring>
#include <fcntl.h>
#include <string>
#include <sys/stat.h>
#include <unistd.h>

namespace milehold::storage {

using core::ErrorCode;
namespace fs = std::filesystem;

namespace {

constexpr std::size_t kHeaderBytes = 100;
constexpr std::string_view kMagic("SQLite format 3\0", 16);

using Bytes = std::array<unsigned char, kHeaderBytes>;

std::uint32_t bigEndian(const Bytes& bytes, std::size_t at) {
    return std::uint32_t{bytes[at]} << 24U | std::uint32_t{bytes[at + 1]} << 16U |
           std::uint32_t{bytes[at + 2]} << 8U | std::uint32_t{bytes[at + 3]};
}

core::Result<Bytes> readHeader(const fs::path& file) {
    const int descriptor = ::open(file.c_str(), O_RDONLY | O_CLOEXEC | O_NOFOLLOW | O_NONBLOCK);
    if (descriptor < 0)
        return tl::unexpected(systemError(errno, "open the shop's file"));
    Bytes bytes{};
    const auto got = ::pread(descriptor, bytes.data(), bytes.size(), 0);
    const int problem = errno;
    ::close(descriptor);
    if (got < 0)
        return tl::unexpected(systemError(problem, "read the shop's file"));
    if (static_cast<std::size_t>(got) != bytes.size()) {
        return core::fail(ErrorCode::Unreadable, "the shop's file is cut short: its header is not whole");
    }
    return bytes;
}

bool hasJournal(const fs::path& file) {
    std::error_code problem;
    const auto size = fs::file_size(fs::path(file) += "-journal", problem);
    return !problem && size > 0;
}

} // namespace

core::Result<FileHeader> checkHeader(const fs::path& file, std::int64_t newestSchema) {
    struct stat status {};
    if (::lstat(file.c_str(), &status) != 0)
        return tl::unexpected(systemError(errno, "look at the shop's file"));
    if (!S_ISREG(status.st_mode))
        return core::fail(ErrorCode::NotAShop, "the shop's file is not a plain file");
    if (status.st_nlink > 1) {
        return core::fail(ErrorCode::Unsupported,
                          "the shop's file has several names; its journal could be missed");
    }
    if (status.st_size == 0)
        return core::fail(ErrorCode::Unreadable, "the shop's file is empty");
    if (static_cast<std::size_t>(status.st_size) < kHeaderBytes) {
        return core::fail(ErrorCode::Unreadable, "the shop's file is cut short: its header is not whole");
    }
    const auto read = readHeader(file);
    if (!read)
        return core::failureOf(read);
    const Bytes& bytes = *read;
    if (std::memcmp(bytes.data(), kMagic.data(), kMagic.size()) != 0) {
        return core::fail(ErrorCode::NotAShop, "the file is not a shop's record book");
    }
    FileHeader header;
    header.bytes = static_cast<std::uint64_t>(status.st_size);
    const std::uint32_t size = std::uint32_t{bytes[16]} << 8U | bytes[17];
    header.pageSize = size == 1 ? 65536 : size;
    // The page count counts only while the change counter at 24 is the one for which it was written, at 92.
    header.pages = bigEndian(bytes, 24) == bigEndian(bytes, 92) ? bigEndian(bytes, 28) : 0;
    header.schema = static_cast<std::int32_t>(bigEndian(bytes, 60));
    header.applicationId = bigEndian(bytes, 68);
    header.wal = bytes[18] == 2 || bytes[19] == 2;
    if (header.applicationId != dialect::kApplicationId) {
        return core::fail(ErrorCode::NotAShop, "the file is a database, but not a shop's record book");
    }
    if (header.schema > newestSchema) {
        return core::fail(ErrorCode::TooNew, "the shop has schema " + std::to_string(header.schema) +
                                                 ", and this program knows schemas up to " +
                                                 std::to_string(newestSchema));
    }
    const bool powerOfTwo = header.pageSize >= 512 && (header.pageSize & (header.pageSize - 1)) == 0;
    if (header.schema <= 0 || !powerOfTwo) {
        return core::fail(ErrorCode::Unreadable, "the header of the shop's file is damaged");
    }
    // With a journal or a write-ahead log beside it the file may rightly have another size until it is
    // recovered.
    const std::uint64_t wanted = std::uint64_t{header.pageSize} * header.pages;
    if (!header.wal && !hasJournal(file) && (header.pages == 0 || header.bytes != wanted)) {
        return core::fail(ErrorCode::Unreadable, "the shop's file has " + std::to_string(header.bytes) +
                                                     " bytes, and its header says " + std::to_string(wanted));
    }
    return header;
}

bool isRefusedFileSystem(std::string_view type) {
    constexpr std::array kRefused = {"nfs",   "cifs",       "smb", "fuse.sshfs", "9p",
                                     "davfs", "fuse.davfs", "afs", "ncp"};
    return std::ranges::any_of(kRefused, [&](std::string_view refused) { return type.starts_with(refused); });
}

core::Result<void> checkFileSystem(const fs::path& folder) {
    const QStorageInfo disk(QString::fromStdString(folder.string()));
    if (!disk.isValid())
        return core::fail(ErrorCode::NotFound, "the folder is on no disk that the system knows");
    const std::string type = disk.fileSystemType().toStdString();
    if (!isRefusedFileSystem(type))
        return {};
    return core::fail(ErrorCode::Unsupported,
                      "a shop cannot lie on a network disk (" + type +
                          "): its locks cannot be trusted. For several stations use a server");
}

} // namespace milehold::storage
