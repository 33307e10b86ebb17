// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/exchange/whole_shop.h"

#include "core/quote/given_quote.h"
#include "core/shop/people.h"
#include "core/shop/shelf.h"
#include "storage/exchange/cells.h"
#include "storage/exchange/csv_rows.h"
#include "storage/exchange/exchange_store.h"
#include "storage/exchange/table_sink.h"
#include "storage/exchange/whole_attachments.h"
#include "storage/files/durable.h"
#include "storage/records/repository.h"
#include "storage/records/stored.h"
#include "storage/shop.h"

#include <algorithm>
#include <array>
#include <fstream>
#include <set>
#include <sstream>
#include <string_view>
#include <utility>

namespace milehold::storage {

using core::ErrorCode;
namespace fs = std::filesystem;

namespace {

/// What a stored record names of its own kind, and must therefore come after.
template <class T> std::optional<core::Uuid> earlierOf(const T&) {
    return std::nullopt;
}
template <> std::optional<core::Uuid> earlierOf(const core::PartNumber& part) {
    return part.supersededBy ? std::optional(part.supersededBy->uuid) : std::nullopt;
}
template <> std::optional<core::Uuid> earlierOf(const core::Calibration& calibration) {
    return calibration.supersedes ? std::optional(calibration.supersedes->uuid) : std::nullopt;
}
template <> std::optional<core::Uuid> earlierOf(const core::Job& job) {
    return job.comebackOf ? std::optional(job.comebackOf->uuid) : std::nullopt;
}

/// Columns that the exports of older programs do not have; a record without one keeps its default.
constexpr std::array<std::pair<std::string_view, std::string_view>, 10> kLater = {
    {{"job", "comeback_labour"},
     {"job", "comeback_parts"},
     {"job", "comeback_rental"},
     {"job", "comeback_towing"},
     {"job", "comeback_goodwill"},
     {"job", "comeback_credit"},
     {"job", "claim_state"},
     {"job", "claim_amount"},
     {"follow_up", "call_on"},
     {"follow_up", "void_reason"}}};

template <class T> std::vector<std::string> headerOf() {
    std::vector<std::string> names = {"id"};
    for (const auto& column : recordTable<T>().columns)
        if (column.set != nullptr)
            names.emplace_back(column.name);
    for (const auto& list : recordTable<T>().lists)
        if (list.add != nullptr)
            names.emplace_back(list.field);
    return names;
}

std::string cellOf(const Value& value) {
    if (const auto* number = std::get_if<std::int64_t>(&value))
        return std::to_string(*number);
    const auto* text = std::get_if<std::string>(&value);
    return text == nullptr ? std::string() : guarded(*text);
}

template <class T> std::vector<std::string> cellsOf(const T& record) {
    std::vector<std::string> cells = {core::toString(record.id.uuid)};
    for (const auto& column : recordTable<T>().columns)
        if (column.set != nullptr)
            cells.push_back(cellOf(column.get(record)));
    for (const auto& list : recordTable<T>().lists)
        if (list.add != nullptr)
            cells.push_back(cellOf(listText(list.get(record), list.readColumns)));
    return cells;
}

/// A cell as the one kind of value that its field takes.
template <class T> bool setColumn(T& record, const Column<T>& column, std::string_view cell) {
    if (column.set(record, textValue(unguarded(cell))))
        return true;
    if (const auto number = wholeFromCell(cell))
        return column.set(record, intValue(*number));
    return cell.empty() && column.set(record, Value());
}

template <class T> bool setList(T& record, const ListTable<T>& list, std::string_view cell) {
    if (cell.empty())
        return true;
    const auto rows = listFromText(unguarded(cell), list.readColumns);
    return rows && std::ranges::all_of(*rows, [&](const auto& row) { return list.add(record, row); });
}

template <class T> fs::path fileOf(const fs::path& folder) {
    return folder / (std::string(recordTable<T>().name) + ".csv");
}

class Writer {
public:
    Writer(Session& session, fs::path folder) : session_(session), folder_(std::move(folder)) {}

    template <class T> core::Result<void> write() {
        const auto all = readAll<T>(session_, "ORDER BY id");
        if (!all)
            return core::failureOf(all);
        std::ostringstream text;
        CsvSink sink(text);
        std::vector<TableColumn> header;
        for (auto& name : headerOf<T>())
            header.push_back({std::move(name)});
        auto written = sink.header(header);
        for (const auto& record : *all) {
            if (written)
                written = sink.row(cellsOf(record));
        }
        if (written)
            written = sink.finish();
        if (written)
            written = createFile(fileOf<T>(folder_), text.view());
        rows_ += all->size();
        return written;
    }
    std::size_t rows() const { return rows_; }

private:
    Session& session_;
    fs::path folder_;
    std::size_t rows_ = 0;
};

class Reader {
public:
    Reader(UnitOfWork& unit, Session& session, fs::path folder)
        : unit_(unit), session_(session), folder_(std::move(folder)) {}

    template <class T> core::Result<std::vector<T>> read() {
        const fs::path file = fileOf<T>(folder_);
        auto bytes = openBytes(file.string());
        if (!bytes)
            return core::failureOf(bytes);
        CsvRows rows(std::move(*bytes), file.filename().string());
        auto more = rows.next();
        if (!more)
            return core::failureOf(more);
        auto header = headerOf<T>();
        if (*more)
            std::erase_if(header, [&](const std::string& name) {
                return std::ranges::find(kLater, std::pair(std::string_view(recordTable<T>().name),
                                                           std::string_view(name))) != kLater.end() &&
                       std::ranges::find(rows.cells(), name) == rows.cells().end();
            });
        if (!*more || !std::ranges::equal(rows.cells(), header))
            return core::fail(ErrorCode::InvalidInput,
                              rows.place() + ": this is not the header that an export of everything writes");
        std::vector<T> all;
        while (true) {
            more = rows.next();
            if (!more)
                return core::failureOf(more);
            if (!*more)
                return all;
            auto record = recordOf<T>(rows, header);
            if (!record)
                return core::failureOf(record);
            all.push_back(std::move(*record));
        }
    }

    /// Saves all, each after the one of its kind that it names.
    template <class T> core::Result<void> save(std::vector<T> waiting) {
        std::set<std::string> there;
        while (!waiting.empty()) {
            std::vector<T> later;
            for (auto& record : waiting) {
                const auto earlier = earlierOf(record);
                if (earlier && !there.contains(core::toString(*earlier))) {
                    later.push_back(std::move(record));
                    continue;
                }
                there.insert(core::toString(record.id.uuid));
                if (auto saved = saveRecord(unit_, session_, std::move(record)); !saved)
                    return core::failureOf(saved);
                ++rows_;
            }
            if (later.size() == waiting.size())
                return core::fail(ErrorCode::InvalidInput,
                                  fileOf<T>({}).string() + ": a record names one that is not there");
            waiting = std::move(later);
        }
        return {};
    }
    template <class T> core::Result<void> take() {
        auto all = read<T>();
        if (!all)
            return core::failureOf(all);
        return save(std::move(*all));
    }
    /// For a table that exports of older programs do not have.
    template <class T> core::Result<void> takeIfThere() {
        std::error_code problem;
        return fs::exists(fileOf<T>(folder_), problem) ? take<T>() : core::Result<void>();
    }
    /// The shop's own row is there from the beginning.
    core::Result<void> takeSettings() {
        auto all = read<StoredSettings>();
        if (!all)
            return core::failureOf(all);
        if (all->size() != 1 || all->front().id != StoredSettings::kId)
            return core::fail(ErrorCode::InvalidInput, "shop.csv: one row was expected");
        const auto stored = findRecord<StoredSettings>(session_, StoredSettings::kId.uuid);
        if (!stored)
            return core::failureOf(stored);
        all->front().revision = stored->revision;
        auto saved = saveRecord(unit_, session_, all->front());
        if (!saved)
            return core::failureOf(saved);
        ++rows_;
        return {};
    }
    std::size_t rows() const { return rows_; }

private:
    template <class T> core::Result<T> recordOf(const CsvRows& rows, const std::vector<std::string>& header) {
        const auto& table = recordTable<T>();
        const auto bad = [&](std::string_view column) {
            return core::fail(ErrorCode::InvalidInput, rows.place() + ": column " + std::string(column) +
                                                           ": this is no value that the column takes");
        };
        if (rows.cells().size() != header.size())
            return core::fail(ErrorCode::InvalidInput,
                              rows.place() + ": the row has another number of cells than the header");
        T record;
        const auto id = core::uuidFromString(rows.cells()[0]);
        if (!id || id->isNull())
            return bad("id");
        record.id.uuid = *id;
        std::size_t at = 1;
        for (const auto& column : table.columns) {
            const bool isThere = at < header.size() && header[at] == column.name;
            if (column.set != nullptr && isThere && !setColumn(record, column, rows.cells()[at++]))
                return bad(column.name);
        }
        for (const auto& list : table.lists) {
            if (list.add != nullptr && !setList(record, list, rows.cells()[at++]))
                return bad(list.field);
        }
        return record;
    }

    UnitOfWork& unit_;
    Session& session_;
    fs::path folder_;
    std::size_t rows_ = 0;
};

core::Result<void> refuseUnlessEmpty(Session& session) {
    Statement count(session,
                    "SELECT (SELECT count(*) FROM staff) + (SELECT count(*) FROM customer) + "
                    "(SELECT count(*) FROM engine_family) + (SELECT count(*) FROM part_number) + "
                    "(SELECT count(*) FROM vehicle) + (SELECT count(*) FROM job)",
                    "look whether the shop is empty");
    if (auto ran = count.run(); !ran)
        return ran;
    const auto row = count.next();
    if (!row)
        return core::failureOf(row);
    if (!*row || count.integer(0) != 0)
        return core::fail(ErrorCode::InvalidInput, "the shop holds records already; a new one was expected");
    return {};
}

core::Result<void> setCounter(Session& session) {
    Statement count(session,
                    "UPDATE counter SET next = 1 + (SELECT coalesce(max(number), 0) FROM job) WHERE name = "
                    "'job'",
                    "set the counter of jobs");
    return count.run();
}

core::Result<void> takeAll(Reader& reader) {
    if (auto done = reader.takeSettings(); !done)
        return done;
    for (const auto step :
         {&Reader::take<core::Staff>, &Reader::take<core::EngineFamily>, &Reader::take<core::PartNumber>,
          &Reader::take<core::Calibration>, &Reader::take<core::RepairPath>, &Reader::take<core::ShelfNote>,
          &Reader::take<core::Customer>, &Reader::take<core::Vehicle>}) {
        if (auto done = (reader.*step)(); !done)
            return done;
    }
    auto readings = reader.read<StoredOdometer>();
    if (!readings)
        return core::failureOf(readings);
    // An instrument that was replaced explains a job's readings, and what a job or a call brought follows it.
    std::vector<StoredOdometer> brought;
    std::erase_if(*readings, [&](const StoredOdometer& reading) {
        const bool isBrought = reading.source != core::OdometerSource::Typed;
        if (isBrought)
            brought.push_back(reading);
        return isBrought;
    });
    if (auto done = reader.save(std::move(*readings)); !done)
        return done;
    if (auto done = reader.take<core::Job>(); !done)
        return done;
    if (auto done = reader.take<core::FollowUp>(); !done)
        return done;
    if (auto done = reader.takeIfThere<core::GivenQuote>(); !done)
        return done;
    return reader.save(std::move(brought));
}

} // namespace

core::Result<std::size_t> exportWhole(Shop& shop, const fs::path& folder) {
    std::error_code problem;
    if (fs::exists(fs::symlink_status(folder, problem)))
        return core::fail(ErrorCode::InvalidInput, "the folder exists; expected a name that is free");
    if (auto made = makeFolder(folder); !made)
        return core::failureOf(made);
    Writer writer(shop.exchange().session(), folder);
    for (const auto step :
         {&Writer::write<StoredSettings>, &Writer::write<core::Staff>, &Writer::write<core::EngineFamily>,
          &Writer::write<core::PartNumber>, &Writer::write<core::Calibration>,
          &Writer::write<core::RepairPath>, &Writer::write<core::ShelfNote>, &Writer::write<core::Customer>,
          &Writer::write<core::Vehicle>, &Writer::write<StoredOdometer>, &Writer::write<core::Job>,
          &Writer::write<core::FollowUp>, &Writer::write<core::GivenQuote>}) {
        if (auto done = (writer.*step)(); !done)
            return core::failureOf(done);
    }
    const auto files = exportAttachments(shop, folder);
    if (!files)
        return core::failureOf(files);
    const std::size_t rows = writer.rows() + *files;
    if (!shop.readOnly()) {
        if (auto noted = shop.exchange().noteExport("everything", rows, false); !noted)
            return core::failureOf(noted);
    }
    return rows;
}

core::Result<std::size_t> importWhole(const fs::path& folder, Shop& shop) {
    Session& session = shop.exchange().session();
    auto rows = inOneUnit(session, [&](UnitOfWork& unit) -> core::Result<std::size_t> {
        if (auto empty = refuseUnlessEmpty(session); !empty)
            return core::failureOf(empty);
        Reader reader(unit, session, folder);
        if (auto taken = takeAll(reader); !taken)
            return core::failureOf(taken);
        const auto files = importAttachments(unit, shop, folder);
        if (!files)
            return core::failureOf(files);
        if (auto set = setCounter(session); !set)
            return core::failureOf(set);
        return reader.rows() + *files;
    });
    if (!rows)
        return rows;
    const auto report = shop.verify(CheckDepth::Full);
    if (!report)
        return core::failureOf(report);
    if (!report->sound())
        return core::fail(ErrorCode::Unreadable, "what arrived is not sound: " + report->problems.front());
    return rows;
}

} // namespace milehold::storage
