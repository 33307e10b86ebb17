// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/attachment_store.h"

#include "storage/database/each_row.h"
#include "storage/database/statement.h"
#include "storage/database/text.h"
#include "storage/database/unit_of_work.h"
#include "storage/disk_room.h"
#include "storage/exchange/exchange_store.h"
#include "storage/files/attachment_copies.h"
#include "storage/files/durable.h"
#include "storage/make_id.h"
#include "storage/offline.h"
#include "storage/records/codec.h"
#include "storage/shop.h"

namespace milehold::storage {

using core::Attachment;
using core::ErrorCode;
namespace fs = std::filesystem;

namespace {

constexpr qsizetype kLongestName = 200; // characters

core::Result<std::vector<Attachment>> readRows(Statement& select) {
    std::vector<Attachment> found;
    const auto read = eachRow(select, [&] {
        Attachment& one = found.emplace_back();
        one.id.uuid = select.id(0);
        one.job.uuid = select.id(1);
        one.kind = select.text(2);
        one.name = select.text(3);
        one.sha256 = select.text(4);
        one.size = select.integer(5);
    });
    if (!read)
        return core::failureOf(read);
    return found;
}

/// The last part of whatever a file was called, without what could pass for a path or steer a terminal.
std::string plainName(std::string name) {
    if (const auto slash = name.find_last_of("/\\"); slash != std::string::npos)
        name.erase(0, slash + 1);
    std::erase_if(name, [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7F; });
    return toQt(name).left(kLongestName).toStdString(); // bytes that are no UTF-8 become a sign that says so
}

std::vector<LoggedField> fieldsOf(const Attachment& one, bool isNew) {
    std::vector<LoggedField> fields;
    const auto add = [&](const char* field, Value value, bool personal) {
        fields.push_back(isNew ? LoggedField{field, {}, std::move(value), personal}
                               : LoggedField{field, std::move(value), {}, personal});
    };
    add("job_id", encode(one.job), false);
    add("kind", textValue(one.kind), false);
    add("name", textValue(one.name), true);
    add("sha256", textValue(one.sha256), false);
    add("size", intValue(one.size), false);
    return fields;
}

constexpr auto kSending = "sending-"; ///< begins the folder of a file on its way to the server

/// What a killed program left on the way.
void removeLeftSendings(const fs::path& folder) {
    std::error_code ignored;
    const auto longAgo = fs::file_time_type::clock::now() - std::chrono::hours(1);
    for (const auto& entry : fs::directory_iterator(folder, ignored)) {
        std::error_code problem;
        if (entry.path().filename().string().starts_with(kSending) &&
            entry.last_write_time(problem) < longAgo && !problem)
            fs::remove_all(entry.path(), problem);
    }
}

core::Result<void> insert(UnitOfWork& unit, Session& session, const Attachment& one) {
    Statement add(session,
                  "INSERT INTO attachment (id, job_id, kind, name, sha256, size) "
                  "VALUES (:id, :job, :kind, :name, :hash, :size)",
                  "name an attachment");
    add.bindId(":id", one.id.uuid)
        .bindId(":job", one.job.uuid)
        .bindText(":kind", one.kind)
        .bindText(":name", one.name)
        .bindText(":hash", one.sha256)
        .bindInt(":size", one.size);
    if (auto ran = add.run(); !ran)
        return ran;
    return unit.log(ChangeAction::Insert, "attachment", one.id.uuid, fieldsOf(one, true));
}

} // namespace

core::Result<std::vector<Attachment>> AttachmentStore::ofJob(core::JobId job) const {
    Statement select(session_,
                     "SELECT a.id, a.job_id, a.kind, a.name, a.sha256, a.size FROM attachment a "
                     "WHERE a.job_id = :job ORDER BY (SELECT min(c.seq) FROM change_log c WHERE c.row_id = "
                     "a.id), a.id",
                     "list attachments");
    select.bindId(":job", job.uuid);
    return readRows(select);
}

core::Result<std::vector<Attachment>> AttachmentStore::all() const {
    Statement select(session_, "SELECT id, job_id, kind, name, sha256, size FROM attachment ORDER BY id",
                     "list attachments");
    return readRows(select);
}

core::Result<Attachment> AttachmentStore::find(core::AttachmentId id) const {
    Statement select(session_, "SELECT id, job_id, kind, name, sha256, size FROM attachment WHERE id = :id",
                     "find an attachment");
    select.bindId(":id", id.uuid);
    auto found = readRows(select);
    if (!found)
        return core::failureOf(found);
    if (found->empty())
        return core::fail(ErrorCode::NotFound, "no such attachment");
    return std::move(found->front());
}

core::Result<Attachment> AttachmentStore::add(core::JobId job, const fs::path& from, std::string name) {
    if (files_.folder().empty())
        return core::fail(ErrorCode::Unsupported, "this shop keeps no files");
    if (session_.readOnly())
        return core::fail(ErrorCode::ReadOnly, "the shop is open for reading only");
    if (!isOnServer()) {
        // What can wait leaves the last of the disk to the day's jobs.
        const auto room = roomOf(files_.folder().parent_path().parent_path());
        if (!room)
            return core::failureOf(room);
        if (auto enough = requireRoom(*room); !enough)
            return core::failureOf(enough);
    }
    // The file first, and no transaction waits for it: a row never names what is not on the disk.
    auto taken = take(from);
    if (!taken)
        return core::failureOf(taken);
    return inOneUnit(session_, [&](UnitOfWork& unit) -> core::Result<Attachment> {
        auto there = ofJob(job);
        if (!there)
            return core::failureOf(there);
        for (const auto& one : *there)
            if (one.sha256 == taken->sha256)
                return one;
        Attachment made{storage::makeId<core::AttachmentId>(),
                        job,
                        taken->kind,
                        plainName(name),
                        taken->sha256,
                        taken->size};
        if (made.name.empty())
            made.name = made.kind;
        Statement known(session_, "SELECT id FROM job WHERE id = :job", "find a job");
        known.bindId(":job", job.uuid);
        if (auto ran = known.run(); !ran)
            return core::failureOf(ran);
        const auto row = known.next();
        if (!row)
            return core::failureOf(row);
        if (!*row)
            return core::fail(ErrorCode::NotFound, "the job is not saved yet; its files come after it");
        if (auto named = this->name(unit, made); !named)
            return core::failureOf(named);
        return made;
    });
}

bool AttachmentStore::isOnServer() const {
    return session_.server().has_value();
}

core::Result<TakenFile> AttachmentStore::take(const fs::path& from) const {
    if (!isOnServer())
        return files_.take(from);
    // The same looks at a hostile file as anywhere; then it goes on to the server, and nothing stays at this
    // station. In a folder of its own: another window here may be sending the same.
    std::error_code problem;
    fs::create_directories(files_.folder(), problem);
    fs::permissions(files_.folder().parent_path(), fs::perms::owner_all, problem);
    removeLeftSendings(files_.folder());
    const fs::path place = files_.folder() / (kSending + core::toString(makeUuid()));
    if (auto made = makeFolder(place); !made)
        return core::failureOf(made);
    const AttachmentFiles sending(place);
    const auto sent = [&]() -> core::Result<TakenFile> {
        auto taken = sending.take(from);
        if (!taken)
            return taken;
        const auto blocks = sending.read(taken->sha256);
        if (!blocks)
            return core::failureOf(blocks);
        if (auto put = contents_.put(taken->sha256, taken->size, *blocks); !put)
            return core::failureOf(put);
        return taken;
    }();
    fs::remove_all(place, problem);
    if (problem && sent)
        return tl::unexpected(systemError(problem.value(), "remove a file that was sent"));
    return sent;
}

core::Result<ContentBlocks> AttachmentStore::read(const std::string& sha256) const {
    return isOnServer() ? core::Result<ContentBlocks>(contents_.read(sha256)) : files_.read(sha256);
}

core::Result<void> AttachmentStore::keep(const std::string& sha256, std::int64_t size,
                                         const ContentBlocks& from) const {
    if (isOnServer())
        return contents_.put(sha256, size, from);
    if (files_.check(sha256, size))
        return {};
    if (auto brought = files_.bring(sha256, from); !brought)
        return brought;
    return files_.check(sha256, size);
}

core::Result<void> AttachmentStore::name(UnitOfWork& unit, const Attachment& record) const {
    if (isOnServer()) {
        // A sweep from another station may have come between.
        const auto there = contents_.isThere(record.sha256);
        if (!there)
            return core::failureOf(there);
        if (!*there)
            return core::fail(ErrorCode::NotFound, "the file is gone again; add it once more");
    }
    return insert(unit, session_, record);
}

core::Result<void> AttachmentStore::remove(core::AttachmentId id) {
    return inOneUnit(session_, [&](UnitOfWork& unit) -> core::Result<void> {
        const auto stored = find(id);
        if (!stored)
            return core::failureOf(stored);
        Statement drop(session_, "DELETE FROM attachment WHERE id = :id", "remove an attachment");
        drop.bindId(":id", id.uuid);
        if (auto ran = drop.run(); !ran)
            return ran;
        return unit.log(ChangeAction::Delete, "attachment", id.uuid, fieldsOf(*stored, false));
    });
}

core::Result<fs::path> AttachmentStore::copyToRead(core::AttachmentId id, const fs::path& folder) const {
    const auto stored = find(id);
    if (!stored)
        return core::failureOf(stored);
    const fs::path copy =
        folder / (core::toString(makeUuid()) + "." + (stored->kind == "jpeg" ? "jpg" : stored->kind));
    const auto content = read(stored->sha256);
    if (!content)
        return core::failureOf(content);
    if (auto copied = writeCopy(stored->sha256, *content, copy); !copied)
        return core::failureOf(copied);
    return copy;
}

core::Result<std::vector<std::string>> AttachmentStore::check() const {
    Statement select(session_, "SELECT sha256, min(size), count(*) FROM attachment GROUP BY sha256",
                     "check attachments");
    std::vector<std::string> problems;
    const auto read = eachRow(select, [&]() -> core::Result<void> {
        const auto sound = isOnServer() ? contents_.check(select.text(0), select.integer(1))
                                        : files_.check(select.text(0), select.integer(1));
        if (!sound && isOffline(sound.error()))
            return core::failureOf(sound);
        if (!sound)
            problems.push_back(sound.error().detail);
        return {};
    });
    if (!read)
        return core::failureOf(read);
    return problems;
}

AttachmentStore attachmentsOf(Shop& shop) {
    Session& session = shop.exchange().session();
    return {session, session.server() ? shop.folder() / "outgoing" : attachmentsFolder(shop.folder())};
}

core::Result<std::size_t> sweepUnnamed(Shop& shop, core::Moment now) {
    if (shop.readOnly())
        return core::fail(ErrorCode::ReadOnly, "the shop is open for reading only");
    const auto backups = shop.backups();
    if (!backups)
        return core::failureOf(backups);
    std::set<std::string> inBackups;
    for (const auto& backup : *backups) {
        auto listed = contentsOfBackup(backup.folder);
        if (!listed)
            return core::failureOf(listed);
        inBackups.merge(*listed);
    }
    return attachmentsOf(shop).sweep(std::move(inBackups), now - kKeptUnnamed);
}

core::Result<std::set<std::string>> AttachmentStore::named() const {
    Statement select(session_, "SELECT DISTINCT sha256 FROM attachment", "list attachments");
    std::set<std::string> hashes;
    const auto read = eachRow(select, [&] { hashes.insert(select.text(0)); });
    if (!read)
        return core::failureOf(read);
    return hashes;
}

core::Result<void> AttachmentStore::removeUnnamed(const std::vector<Attachment>& gone) const {
    const auto kept = named();
    if (!kept)
        return core::failureOf(kept);
    for (const auto& one : gone) {
        if (kept->contains(one.sha256))
            continue;
        if (auto removed = isOnServer() ? contents_.remove(one.sha256) : files_.remove(one.sha256); !removed)
            return removed;
    }
    return {};
}

core::Result<std::size_t> AttachmentStore::sweep(std::set<std::string> inBackups, core::Moment before) const {
    if (isOnServer())
        return contents_.sweep(before);
    auto kept = named();
    if (!kept)
        return core::failureOf(kept);
    kept->merge(inBackups);
    return files_.sweep(*kept, before);
}

} // namespace milehold::storage
