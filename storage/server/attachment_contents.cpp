// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/server/attachment_contents.h"

#include "storage/database/dialect.h"
#include "storage/database/each_row.h"
#include "storage/database/statement.h"
#include "storage/database/unit_of_work.h"

#include <QByteArray>
#include <QCryptographicHash>

#include <algorithm>
#include <chrono>
#include <memory>

namespace milehold::storage {

using core::ErrorCode;

namespace {

/// So much goes in one statement: a slow line must not run into the server's patience with one.
constexpr std::size_t kBlock = 256 * 1024;

constexpr std::chrono::hours kAhead{24}; ///< no file is younger than now, whatever the stations' clocks say

/// Joins what comes into blocks of one size; a blank one is the end.
class Joined {
public:
    explicit Joined(const ContentBlocks& from) : from_(from) {}
    core::Result<std::string> next() {
        while (waiting_.size() < kBlock) {
            auto piece = from_();
            if (!piece)
                return piece;
            if (piece->empty())
                break;
            waiting_ += *piece;
        }
        std::string block = waiting_.substr(0, kBlock);
        waiting_.erase(0, block.size());
        return block;
    }

private:
    const ContentBlocks& from_;
    std::string waiting_;
};

std::string base64(const std::string& bytes) {
    return QByteArray::fromRawData(bytes.data(), static_cast<qsizetype>(bytes.size()))
        .toBase64()
        .toStdString();
}

core::Result<bool> hasRow(Statement& select) {
    if (auto ran = select.run(); !ran)
        return core::failureOf(ran);
    return select.next();
}

} // namespace

core::Result<bool> AttachmentContents::isThere(std::string_view sha256) const {
    Statement select(session_, "SELECT size FROM attachment_file WHERE sha256 = :hash", "look for a file");
    select.bindText(":hash", sha256);
    return hasRow(select);
}

core::Result<void> AttachmentContents::put(std::string_view sha256, std::int64_t size,
                                           const ContentBlocks& from) const {
    const auto there = isThere(sha256);
    if (!there)
        return core::failureOf(there);
    if (*there) {
        const auto sound = check(sha256, size);
        if (sound || sound.error().code != ErrorCode::Unreadable)
            return sound;
        if (auto removed = remove(sha256); !removed)
            return removed;
    }
    if (session_.unit() != nullptr)
        return insert(sha256, size, from);
    auto& database = session_.database();
    if (auto begun = runPlain(database, dialect::begin(engineOf(database)), "keep a file"); !begun)
        return begun;
    auto kept = insert(sha256, size, from);
    if (kept)
        kept = runPlain(database, "COMMIT", "keep a file");
    if (!kept && session_.isConnected())
        static_cast<void>(runPlain(session_.database(), "ROLLBACK", "keep a file"));
    return kept;
}

core::Result<void> AttachmentContents::insert(std::string_view sha256, std::int64_t size,
                                              const ContentBlocks& from) const {
    Statement name(session_,
                   "INSERT INTO attachment_file (sha256, size, added_at) VALUES (:hash, :size, :at) "
                   "ON CONFLICT (sha256) DO NOTHING",
                   "keep a file");
    name.bindText(":hash", sha256).bindInt(":size", size).bindText(":at", core::toIso(session_.now()));
    if (auto ran = name.run(); !ran)
        return ran;
    if (name.rowsChanged() == 0)
        return {}; // another station was quicker with the same
    Statement add(session_,
                  "INSERT INTO attachment_block (sha256, place, bytes) VALUES (:hash, :place, "
                  "decode(:bytes, 'base64'))",
                  "keep a file");
    QCryptographicHash hash(QCryptographicHash::Sha256);
    Joined blocks(from);
    std::int64_t total = 0;
    for (std::int64_t place = 0;; ++place) {
        const auto block = blocks.next();
        if (!block)
            return core::failureOf(block);
        if (block->empty())
            break;
        hash.addData(QByteArrayView(block->data(), static_cast<qsizetype>(block->size())));
        total += static_cast<std::int64_t>(block->size());
        add.again();
        add.bindText(":hash", sha256).bindInt(":place", place).bindText(":bytes", base64(*block));
        if (auto ran = add.run(); !ran)
            return ran;
    }
    if (total != size || hash.result().toHex().toStdString() != sha256)
        return core::fail(ErrorCode::Unreadable, "an attachment's file is not what was kept");
    return {};
}

ContentBlocks AttachmentContents::read(std::string_view sha256) const {
    return [this_ = *this, hash = std::string(sha256),
            place = std::make_shared<std::int64_t>(0)]() -> core::Result<std::string> {
        Statement select(
            this_.session_,
            "SELECT encode(bytes, 'base64') FROM attachment_block WHERE sha256 = :hash AND place = "
            ":place",
            "fetch a file");
        select.bindText(":hash", hash).bindInt(":place", *place);
        const auto row = hasRow(select);
        if (!row)
            return core::failureOf(row);
        if (!*row && *place == 0)
            return core::fail(ErrorCode::NotFound, "an attachment's file is missing");
        if (!*row)
            return std::string();
        ++*place;
        return QByteArray::fromBase64(QByteArray::fromStdString(select.text(0))).toStdString();
    };
}

core::Result<void> AttachmentContents::check(std::string_view sha256, std::int64_t size) const {
    const auto there = isThere(sha256);
    if (!there)
        return core::failureOf(there);
    if (!*there)
        return core::fail(ErrorCode::NotFound, "an attachment's file is missing");
    Statement select(
        session_,
        "SELECT coalesce(sum(length(bytes)), 0), coalesce(encode(sha256(string_agg(bytes, CAST('' AS "
        "BYTEA) ORDER BY place)), 'hex'), '') FROM attachment_block WHERE sha256 = :hash",
        "check a file");
    select.bindText(":hash", sha256);
    const auto row = hasRow(select);
    if (!row)
        return core::failureOf(row);
    if (!*row || select.integer(0) != size)
        return core::fail(ErrorCode::Unreadable, "an attachment's file has another size");
    if (select.text(1) != sha256)
        return core::fail(ErrorCode::Unreadable, "an attachment's file is not what was kept");
    return {};
}

core::Result<std::set<std::string>> AttachmentContents::all() const {
    Statement select(session_, "SELECT sha256 FROM attachment_file", "list the files");
    std::set<std::string> hashes;
    const auto read = eachRow(select, [&] { hashes.insert(select.text(0)); });
    if (!read)
        return core::failureOf(read);
    return hashes;
}

core::Result<std::size_t> AttachmentContents::sweep(core::Moment before) const {
    // In a unit of work: whoever names a file waits for its end, and looks whether the file is there.
    return inOneUnit(session_, [&](UnitOfWork&) -> core::Result<std::size_t> {
        Statement drop(session_,
                       "DELETE FROM attachment_file WHERE added_at < :before AND NOT EXISTS (SELECT 1 FROM "
                       "attachment a WHERE a.sha256 = attachment_file.sha256)",
                       "sweep files");
        drop.bindText(":before", core::toIso(std::min(before, session_.now() + kAhead)));
        if (auto ran = drop.run(); !ran)
            return core::failureOf(ran);
        return static_cast<std::size_t>(drop.rowsChanged());
    });
}

core::Result<void> AttachmentContents::remove(std::string_view sha256) const {
    Statement drop(session_, "DELETE FROM attachment_file WHERE sha256 = :hash", "remove a file");
    drop.bindText(":hash", sha256);
    return drop.run();
}

} // namespace milehold::storage
