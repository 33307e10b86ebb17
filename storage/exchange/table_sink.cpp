// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/exchange/table_sink.h"

#include "core/quantity/date.h"
#include "storage/exchange/cells.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <optional>
#include <ostream>
#include <sys/mman.h>
#include <unistd.h>
#include <xlsxwriter.h>

namespace milehold::storage {

using core::ErrorCode;

core::Result<void> CsvSink::header(const std::vector<TableColumn>& columns) {
    std::vector<std::string> names;
    for (const auto& column : columns)
        names.push_back(column.name);
    return row(names);
}

core::Result<void> CsvSink::row(std::span<const std::string> cells) {
    for (std::size_t i = 0; i < cells.size(); ++i)
        out_ << (i == 0 ? "" : ",") << csvCell(cells[i]);
    // A row of one blank cell would be a line without characters, which no reader takes for a row.
    if (cells.size() == 1 && cells[0].empty())
        out_ << "\"\"";
    out_ << '\n';
    return {};
}

core::Result<void> CsvSink::finish() {
    if (!out_.flush())
        return core::fail(ErrorCode::DiskProblem, "the file cannot be written to its end");
    return {};
}

namespace {

constexpr std::uint32_t kMostRows = 1'048'576; // of a sheet, ECMA-376
constexpr std::size_t kMostDecimals = 4;
constexpr std::size_t kWidest = 60;
/// Beyond this a whole number is no longer itself as a double, and a sheet holds nothing else.
constexpr double kMostWhole = 9'007'199'254'740'992.0;

std::optional<double> numberIn(std::string_view cell) {
    double number = 0;
    const auto [rest, problem] = std::from_chars(cell.data(), cell.data() + cell.size(), number);
    if (problem != std::errc{} || rest != cell.data() + cell.size() || number > kMostWhole ||
        number < -kMostWhole)
        return std::nullopt;
    return number;
}

std::size_t decimalsOf(std::string_view cell) {
    const auto point = cell.find('.');
    return point == std::string_view::npos ? 0 : std::min(cell.size() - point - 1, kMostDecimals);
}

std::size_t charactersOf(std::string_view text) {
    return static_cast<std::size_t>(
        std::ranges::count_if(text, [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

} // namespace

/// The library writes to a file by name: this one lies in memory, so that nobody's name is left on a disk.
struct XlsxSink::Book {
    explicit Book(const std::string& sheetName)
        : memory(::memfd_create("milehold-sheet", MFD_CLOEXEC)),
          book(workbook_new(("/proc/self/fd/" + std::to_string(memory)).c_str())) {
        sheet = workbook_add_worksheet(book, sheetName.c_str());
        bold = workbook_add_format(book);
        format_set_bold(bold);
        date = workbook_add_format(book);
        format_set_num_format(date, "yyyy-mm-dd");
        std::string looks = "0";
        for (std::size_t i = 0; i < numbers.size(); ++i) {
            numbers[i] = workbook_add_format(book);
            format_set_num_format(numbers[i], looks.c_str());
            looks += i == 0 ? ".0" : "0";
        }
    }
    ~Book() {
        if (book != nullptr)
            lxw_workbook_free(book);
        if (memory >= 0)
            ::close(memory);
    }
    Book(const Book&) = delete;
    Book& operator=(const Book&) = delete;

    core::Result<std::string> read() const {
        std::string bytes;
        std::array<char, 1 << 14> block{};
        while (true) {
            const auto got = ::pread(memory, block.data(), block.size(), static_cast<off_t>(bytes.size()));
            if (got < 0)
                return core::fail(ErrorCode::DiskProblem, "the workbook cannot be read back");
            if (got == 0)
                return bytes;
            bytes.append(block.data(), static_cast<std::size_t>(got));
        }
    }

    int memory = -1;
    lxw_workbook* book = nullptr;
    lxw_worksheet* sheet = nullptr;
    lxw_format* bold = nullptr;
    lxw_format* date = nullptr;
    std::array<lxw_format*, kMostDecimals + 1> numbers{};
};

XlsxSink::XlsxSink(const std::string& sheetName) : book_(std::make_unique<Book>(sheetName)) {}
XlsxSink::~XlsxSink() = default;

core::Result<void> XlsxSink::header(const std::vector<TableColumn>& columns) {
    columns_ = columns;
    for (std::size_t i = 0; i < columns.size(); ++i) {
        widths_.push_back(charactersOf(columns[i].name));
        worksheet_write_string(book_->sheet, 0, static_cast<lxw_col_t>(i), columns[i].name.c_str(),
                               book_->bold);
    }
    worksheet_freeze_panes(book_->sheet, 1, 0);
    nextRow_ = 1;
    return {};
}

core::Result<void> XlsxSink::put(std::size_t column, const std::string& cell) {
    const auto place = static_cast<lxw_col_t>(column);
    lxw_error outcome = LXW_NO_ERROR;
    const auto date =
        columns_[column].kind == CellKind::Date ? core::dateFromIso(cell) : std::optional<core::Date>();
    const auto number = columns_[column].kind == CellKind::Number ? numberIn(cell) : std::nullopt;
    // A sheet counts days from 1900 on.
    if (date && int(date->year()) >= 1900) {
        lxw_datetime day{};
        day.year = int(date->year());
        day.month = static_cast<int>(unsigned(date->month()));
        day.day = static_cast<int>(unsigned(date->day()));
        outcome = worksheet_write_datetime(book_->sheet, nextRow_, place, &day, book_->date);
    } else if (number) {
        outcome =
            worksheet_write_number(book_->sheet, nextRow_, place, *number, book_->numbers[decimalsOf(cell)]);
    } else {
        outcome = worksheet_write_string(book_->sheet, nextRow_, place, unguarded(cell).c_str(), nullptr);
    }
    if (outcome == LXW_NO_ERROR)
        return {};
    return core::fail(ErrorCode::Unsupported, "row " + std::to_string(nextRow_ + 1) + ", column " +
                                                  columns_[column].name +
                                                  ": a sheet cannot hold this cell; a CSV file can");
}

core::Result<void> XlsxSink::row(std::span<const std::string> cells) {
    if (nextRow_ >= kMostRows)
        return core::fail(ErrorCode::Unsupported,
                          "a sheet ends at 1,048,576 rows and the table does not; a CSV file can hold it");
    for (std::size_t i = 0; i < cells.size() && i < columns_.size(); ++i) {
        if (cells[i].empty())
            continue;
        widths_[i] = std::max(widths_[i], charactersOf(cells[i]));
        if (auto written = put(i, cells[i]); !written)
            return written;
    }
    ++nextRow_;
    return {};
}

core::Result<void> XlsxSink::finish() {
    for (std::size_t i = 0; i < widths_.size(); ++i) {
        const auto width = static_cast<double>(std::min(widths_[i], kWidest)) + 2;
        worksheet_set_column(book_->sheet, static_cast<lxw_col_t>(i), static_cast<lxw_col_t>(i), width,
                             nullptr);
    }
    if (!columns_.empty() && nextRow_ > 1)
        worksheet_autofilter(book_->sheet, 0, 0, nextRow_ - 1, static_cast<lxw_col_t>(columns_.size() - 1));
    const auto outcome = workbook_close(book_->book);
    book_->book = nullptr;
    if (outcome != LXW_NO_ERROR)
        return core::fail(ErrorCode::DiskProblem, "the workbook cannot be put together");
    auto bytes = book_->read();
    if (!bytes)
        return core::failureOf(bytes);
    bytes_ = std::move(*bytes);
    return {};
}

} // namespace milehold::storage
