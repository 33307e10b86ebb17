// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/files/attachment_files.h"

#include "storage/database/hash.h"
#include "storage/files/descriptor.h"
#include "storage/files/durable.h"
#include "storage/make_id.h"

#include <QCryptographicHash>

#include <algorithm>
#include <cerrno>
#include <fcntl.h>
#include <memory>
#include <sys/stat.h>
#include <unistd.h>
#include <vector>

namespace milehold::storage {

using core::ErrorCode;
namespace fs = std::filesystem;

namespace {

constexpr std::size_t kHashLength = 64;
constexpr auto kUnfinished = "tmp";

tl::unexpected<core::Error> failed(std::string_view what) {
    return tl::unexpected(systemError(errno, what));
}

bool writeAll(int descriptor, const char* bytes, std::size_t count) {
    while (count > 0) {
        const auto written = ::write(descriptor, bytes, count);
        if (written < 0 && errno == EINTR)
            continue;
        if (written <= 0)
            return false;
        bytes += written;
        count -= static_cast<std::size_t>(written);
    }
    return true;
}

struct Copied {
    std::string head;
    std::string sha256;
    std::int64_t size = 0;
};

/// Removes a half-made file on the way out.
class Unfinished {
public:
    explicit Unfinished(fs::path file) : file_(std::move(file)) {}
    ~Unfinished() {
        if (!file_.empty())
            ::unlink(file_.c_str());
    }
    Unfinished(const Unfinished&) = delete;
    Unfinished& operator=(const Unfinished&) = delete;
    const fs::path& path() const { return file_; }
    void keep() { file_.clear(); }

private:
    fs::path file_;
};

/// Writes a file that must not exist, hashing what comes; synced and closed when it returns, and gone again
/// after a failure. `expected` blank: any content.
core::Result<Copied> writeHashed(const ContentBlocks& from, const fs::path& to, ::mode_t rights,
                                 std::string_view expected) {
    Descriptor made(::open(to.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC | O_NOFOLLOW, rights));
    if (!made)
        return failed("write an attachment");
    Unfinished making(to);
    Copied copied;
    QCryptographicHash hash(QCryptographicHash::Sha256);
    while (true) {
        const auto block = from();
        if (!block)
            return core::failureOf(block);
        if (block->empty())
            break;
        if (copied.size == 0)
            copied.head = block->substr(0, 64);
        copied.size += static_cast<std::int64_t>(block->size());
        // A file that grows while it is read must not fill the disk.
        if (copied.size > kMostAttachmentBytes)
            return core::fail(ErrorCode::InvalidInput, "the file is larger than 50 MB");
        hash.addData(QByteArrayView(block->data(), static_cast<qsizetype>(block->size())));
        if (!writeAll(made.number(), block->data(), block->size()))
            return failed("write an attachment");
    }
    if (::fsync(made.number()) != 0 || !made.close())
        return failed("write an attachment");
    copied.sha256 = hash.result().toHex().toStdString();
    if (!expected.empty() && copied.sha256 != expected)
        return core::fail(ErrorCode::Unreadable, "an attachment's file is not what was kept");
    making.keep();
    return copied;
}

ContentBlocks blocksOf(std::shared_ptr<Descriptor> file) {
    return [file = std::move(file)]() -> core::Result<std::string> {
        std::string block(1U << 16U, '\0');
        while (true) {
            const auto got = ::read(file->number(), block.data(), block.size());
            if (got < 0 && errno == EINTR)
                continue;
            if (got < 0)
                return failed("read an attachment");
            block.resize(static_cast<std::size_t>(got));
            return block;
        }
    };
}

bool isHash(std::string_view name) {
    return name.size() == kHashLength &&
           std::ranges::all_of(name, [](char c) { return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'f'); });
}

core::Result<std::shared_ptr<Descriptor>> openPlain(const fs::path& from) {
    // NONBLOCK: a pipe that somebody passes off as a photo must not hold the shop up.
    auto file =
        std::make_shared<Descriptor>(::open(from.c_str(), O_RDONLY | O_CLOEXEC | O_NOFOLLOW | O_NONBLOCK));
    struct stat facts {};
    if (!*file && errno == ELOOP)
        return core::fail(ErrorCode::InvalidInput, "this is a link; the file itself was expected");
    if (!*file || ::fstat(file->number(), &facts) != 0)
        return failed("read an attachment");
    if (!S_ISREG(facts.st_mode))
        return core::fail(ErrorCode::InvalidInput, "this is no plain file");
    if (facts.st_size == 0)
        return core::fail(ErrorCode::InvalidInput, "the file is empty");
    if (facts.st_size > kMostAttachmentBytes)
        return core::fail(ErrorCode::InvalidInput, "the file is larger than 50 MB");
    return file;
}

} // namespace

std::optional<std::string_view> kindOfBytes(std::string_view head) {
    const auto at = [&](std::size_t place, std::string_view bytes) {
        return head.size() >= place + bytes.size() && head.substr(place, bytes.size()) == bytes;
    };
    using namespace std::string_view_literals;
    if (at(0, "\xFF\xD8\xFF"sv))
        return "jpeg";
    if (at(0, "\x89PNG\r\n\x1A\n"sv))
        return "png";
    if (at(0, "GIF87a"sv) || at(0, "GIF89a"sv))
        return "gif";
    if (at(0, "RIFF"sv) && at(8, "WEBP"sv))
        return "webp";
    if (at(0, "II*\0"sv) || at(0, "MM\0*"sv))
        return "tiff";
    if (at(0, "%PDF-"sv))
        return "pdf";
    if (at(0, "RIFF"sv) && at(8, "WAVE"sv))
        return "wav";
    if (at(0, "OggS"sv))
        return "ogg";
    if (at(0, "fLaC"sv))
        return "flac";
    if (at(0, "\x1A\x45\xDF\xA3"sv))
        return "webm";
    if (at(4, "ftyp"sv))
        return at(8, "heic"sv) || at(8, "heix"sv) || at(8, "mif1"sv) ? "heic" : "mp4";
    if (at(0, "ID3"sv) || at(0, "\xFF\xFB"sv) || at(0, "\xFF\xF3"sv) || at(0, "\xFF\xF2"sv))
        return "mp3";
    return std::nullopt;
}

fs::path AttachmentFiles::pathOf(std::string_view sha256) const {
    return folder_ / sha256.substr(0, 2) / sha256;
}

core::Result<TakenFile> AttachmentFiles::take(const fs::path& from) const {
    auto source = openPlain(from);
    if (!source)
        return core::failureOf(source);
    for (const auto& one : {folder_, folder_ / kUnfinished}) {
        if (auto made = makeFolder(one); !made)
            return core::failureOf(made);
    }
    Unfinished making(folder_ / kUnfinished / core::toString(makeUuid()));
    auto copied = writeHashed(blocksOf(std::move(*source)), making.path(), 0600, {});
    if (!copied)
        return core::failureOf(copied);
    const auto kind = kindOfBytes(copied->head);
    if (!kind)
        return core::fail(ErrorCode::InvalidInput,
                          "photos, sound, film and PDF pages are kept, told by what they hold; this is "
                          "something else");
    if (copied->size == 0)
        return core::fail(ErrorCode::InvalidInput, "the file is empty");
    const TakenFile taken{std::string(*kind), copied->sha256, copied->size};
    // What is there already is the same, unless the disk has spoilt it: then the new copy takes its place.
    if (check(taken.sha256, taken.size))
        return taken;
    const fs::path named = pathOf(taken.sha256);
    if (auto made = makeFolder(named.parent_path()); !made)
        return core::failureOf(made);
    if (auto renamed = renameFile(making.path(), named); !renamed)
        return core::failureOf(renamed);
    making.keep();
    return taken;
}

core::Result<void> AttachmentFiles::check(std::string_view sha256, std::int64_t size) const {
    if (!isHash(sha256))
        return core::fail(ErrorCode::Unreadable, "an attachment has no hash for a name");
    std::error_code problem;
    const fs::path file = pathOf(sha256);
    if (!fs::is_regular_file(fs::symlink_status(file, problem)))
        return core::fail(ErrorCode::NotFound, "an attachment's file is missing");
    if (static_cast<std::int64_t>(fs::file_size(file, problem)) != size || problem)
        return core::fail(ErrorCode::Unreadable, "an attachment's file has another size");
    const auto hash = sha256OfFile(file);
    if (!hash || *hash != sha256)
        return core::fail(ErrorCode::Unreadable, "an attachment's file is not what was kept");
    return {};
}

core::Result<void> writeCopy(std::string_view sha256, const ContentBlocks& from, const fs::path& to) {
    if (!isHash(sha256))
        return core::fail(ErrorCode::Unreadable, "an attachment has no hash for a name");
    if (auto written = writeHashed(from, to, 0400, sha256); !written)
        return core::failureOf(written);
    return syncFolder(to.parent_path());
}

core::Result<ContentBlocks> AttachmentFiles::read(std::string_view sha256) const {
    if (!isHash(sha256))
        return core::fail(ErrorCode::Unreadable, "an attachment has no hash for a name");
    auto source =
        std::make_shared<Descriptor>(::open(pathOf(sha256).c_str(), O_RDONLY | O_CLOEXEC | O_NOFOLLOW));
    if (!*source)
        return core::fail(ErrorCode::NotFound, "an attachment's file is missing");
    return blocksOf(std::move(source));
}

core::Result<void> AttachmentFiles::bring(std::string_view sha256, const AttachmentFiles& from) const {
    if (const auto here = sha256OfFile(pathOf(sha256)); isHash(sha256) && here && *here == sha256)
        return {};
    const auto source = from.read(sha256);
    if (!source)
        return core::failureOf(source);
    return bring(sha256, *source);
}

core::Result<void> AttachmentFiles::bring(std::string_view sha256, const ContentBlocks& from) const {
    if (!isHash(sha256))
        return core::fail(ErrorCode::Unreadable, "an attachment has no hash for a name");
    const fs::path named = pathOf(sha256);
    for (const auto& one : {folder_, folder_ / kUnfinished, named.parent_path()}) {
        if (auto made = makeFolder(one); !made)
            return made;
    }
    Unfinished making(folder_ / kUnfinished / core::toString(makeUuid()));
    if (const auto written = writeHashed(from, making.path(), 0600, sha256); !written)
        return core::failureOf(written);
    if (auto renamed = renameFile(making.path(), named); !renamed)
        return renamed;
    making.keep();
    return {};
}

core::Result<std::set<std::string>> AttachmentFiles::all() const {
    std::set<std::string> found;
    std::error_code problem;
    if (!fs::exists(folder_, problem))
        return found;
    fs::recursive_directory_iterator entries(folder_, problem);
    if (problem)
        return tl::unexpected(systemError(problem.value(), "list the attachments"));
    for (const auto& entry : entries) {
        const std::string name = entry.path().filename().string();
        if (isHash(name) && entry.path() == pathOf(name))
            found.insert(name);
    }
    return found;
}

core::Result<std::size_t> AttachmentFiles::sweep(const std::set<std::string>& kept,
                                                 core::Moment before) const {
    const auto here = all();
    if (!here)
        return core::failureOf(here);
    std::size_t removed = 0;
    const auto isOld = [&](const fs::path& file) {
        struct stat facts {};
        if (::lstat(file.c_str(), &facts) != 0)
            return false;
        return core::Moment(std::chrono::seconds(facts.st_mtim.tv_sec)) < before;
    };
    for (const auto& name : *here) {
        if (kept.contains(name) || !isOld(pathOf(name)))
            continue;
        if (auto gone = remove(name); !gone)
            return core::failureOf(gone);
        ++removed;
    }
    std::error_code problem;
    for (const auto& entry : fs::directory_iterator(folder_ / kUnfinished, problem)) {
        if (isOld(entry.path()) && fs::remove(entry.path(), problem))
            ++removed;
    }
    return removed;
}

core::Result<void> AttachmentFiles::remove(std::string_view sha256) const {
    const fs::path file = pathOf(sha256);
    std::error_code problem;
    if (!fs::exists(file.parent_path(), problem))
        return {};
    return removeFile(file);
}

} // namespace milehold::storage
