// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/exchange/whole_attachments.h"

#include "storage/attachment_store.h"
#include "storage/exchange/cells.h"
#include "storage/exchange/csv_rows.h"
#include "storage/exchange/table_sink.h"
#include "storage/files/durable.h"
#include "storage/shop.h"

#include <algorithm>
#include <array>
#include <sstream>

namespace milehold::storage {

using core::Attachment;
using core::ErrorCode;
namespace fs = std::filesystem;

namespace {

constexpr auto kTable = "attachment.csv";
constexpr auto kFiles = "attachments";
constexpr std::array<std::string_view, 6> kHeader = {"id", "job_id", "kind", "name", "sha256", "size"};

core::Result<Attachment> attachmentOf(const CsvRows& rows) {
    const auto cells = rows.cells();
    const auto bad = [&](std::string_view column) {
        return core::fail(ErrorCode::InvalidInput, rows.place() + ": column " + std::string(column) +
                                                       ": this is no value that the column takes");
    };
    if (cells.size() != kHeader.size())
        return core::fail(ErrorCode::InvalidInput,
                          rows.place() + ": the row has another number of cells than the header");
    const auto id = core::uuidFromString(cells[0]);
    if (!id || id->isNull())
        return bad("id");
    const auto job = core::uuidFromString(cells[1]);
    if (!job || job->isNull())
        return bad("job_id");
    const auto size = wholeFromCell(cells[5]);
    if (!size || *size <= 0 || *size > kMostAttachmentBytes)
        return bad("size");
    Attachment one;
    one.id.uuid = *id;
    one.job.uuid = *job;
    one.kind = unguarded(cells[2]);
    one.name = unguarded(cells[3]);
    one.sha256 = std::string(cells[4]);
    one.size = *size;
    return one;
}

/// The content that a row names, kept in the shop before the row.
core::Result<void> takeFile(const AttachmentStore& store, const fs::path& folder, const Attachment& one,
                            const std::string& place) {
    const AttachmentFiles files(folder / kFiles);
    const auto content = files.read(one.sha256);
    auto kept =
        content ? store.keep(one.sha256, one.size, *content) : core::Result<void>(core::failureOf(content));
    if (!kept && (kept.error().code == ErrorCode::NotFound || kept.error().code == ErrorCode::Unreadable))
        return core::fail(ErrorCode::InvalidInput, place + ": " + kept.error().detail);
    return kept;
}

} // namespace

core::Result<std::size_t> exportAttachments(Shop& shop, const fs::path& folder) {
    const AttachmentStore store = attachmentsOf(shop);
    const auto all = store.all();
    if (!all)
        return core::failureOf(all);
    std::ostringstream text;
    CsvSink sink(text);
    std::vector<TableColumn> header;
    for (const auto name : kHeader)
        header.push_back({std::string(name)});
    auto written = sink.header(header);
    const AttachmentFiles files(folder / kFiles);
    for (const auto& one : *all) {
        const auto content = store.read(one.sha256);
        if (!content)
            return core::failureOf(content);
        if (!files.check(one.sha256, one.size))
            if (auto brought = files.bring(one.sha256, *content); !brought)
                return core::failureOf(brought);
        if (written)
            written = sink.row(std::vector<std::string>{
                core::toString(one.id.uuid), core::toString(one.job.uuid), guarded(one.kind),
                guarded(one.name), one.sha256, std::to_string(one.size)});
    }
    if (written)
        written = sink.finish();
    if (written)
        written = createFile(folder / kTable, text.view());
    std::error_code ignored;
    fs::remove(folder / kFiles / "tmp", ignored); // nothing is half written any more
    if (!written)
        return core::failureOf(written);
    return all->size();
}

core::Result<std::size_t> importAttachments(UnitOfWork& unit, Shop& shop, const fs::path& folder) {
    std::error_code problem;
    if (!fs::exists(folder / kTable, problem))
        return std::size_t{0};
    auto bytes = openBytes((folder / kTable).string());
    if (!bytes)
        return core::failureOf(bytes);
    CsvRows rows(std::move(*bytes), kTable);
    auto more = rows.next();
    if (!more)
        return core::failureOf(more);
    if (!*more || !std::ranges::equal(rows.cells(), kHeader))
        return core::fail(ErrorCode::InvalidInput,
                          rows.place() + ": this is not the header that an export of everything writes");
    const AttachmentStore store = attachmentsOf(shop);
    for (std::size_t count = 0;; ++count) {
        more = rows.next();
        if (!more)
            return core::failureOf(more);
        if (!*more)
            return count;
        const auto one = attachmentOf(rows);
        if (!one)
            return core::failureOf(one);
        if (auto taken = takeFile(store, folder, *one, rows.place()); !taken)
            return core::failureOf(taken);
        if (auto named = store.name(unit, *one); !named)
            return core::failureOf(named);
    }
}

} // namespace milehold::storage
