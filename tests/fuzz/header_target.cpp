// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/files/file_check.h"
#include "tests/fuzz/promise.h"
#include "tests/fuzz/targets.h"

#include <fcntl.h>
#include <filesystem>
#include <string>
#include <unistd.h>

namespace milehold::fuzz {

void header(std::string_view bytes) {
    namespace fs = std::filesystem;
    static const fs::path kFile =
        (fs::exists("/dev/shm") ? fs::path("/dev/shm") : fs::temp_directory_path()) /
        ("milehold-fuzz-header-" + std::to_string(::getpid()));
    const int file = ::open(kFile.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0600);
    promise(file >= 0 && ::write(file, bytes.data(), bytes.size()) == static_cast<ssize_t>(bytes.size()),
            "the input can be written");
    ::close(file);
    const auto read = storage::checkHeader(kFile, 9);
    ::unlink(kFile.c_str());
    if (!read) {
        promise(read.error().code == core::ErrorCode::NotAShop ||
                    read.error().code == core::ErrorCode::TooNew ||
                    read.error().code == core::ErrorCode::Unreadable,
                "an error has one of the promised kinds");
        return;
    }
    promise(read->schema >= 1 && read->schema <= 9, "the schema is one that is known");
    promise(read->pageSize >= 512 && read->pageSize <= 65536, "the page size is one that exists");
    promise(read->bytes == bytes.size(), "the size is the file's");
    promise(read->wal || std::uint64_t{read->pageSize} * read->pages == bytes.size(),
            "the pages fill the file");
}

} // namespace milehold::fuzz
