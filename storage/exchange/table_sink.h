// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"

#include <cstddef>
#include <cstdint>
#include <iosfwd>
#include <memory>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace milehold::storage {

/// What a column of a table holds, so that a spreadsheet gets numbers and dates and not their looks.
enum class CellKind : std::uint8_t { Text, Number, Date };

struct TableColumn {
    std::string name;
    CellKind kind = CellKind::Text;
};

/// Where a table goes. Cells are handed over as a CSV file holds them: text guarded (cells.h), numbers with a
/// point, dates ISO 8601. First the header, then each row with one cell a column, at the end finish().
class TableSink {
public:
    TableSink() = default;
    virtual ~TableSink() = default;
    TableSink(const TableSink&) = delete;
    TableSink& operator=(const TableSink&) = delete;

    virtual core::Result<void> header(const std::vector<TableColumn>& columns) = 0;
    virtual core::Result<void> row(std::span<const std::string> cells) = 0;
    virtual core::Result<void> finish() = 0;
};

/// RFC 4180, UTF-8, LF. Errors: DiskProblem when the stream cannot take all of it.
class CsvSink : public TableSink {
public:
    explicit CsvSink(std::ostream& out) : out_(out) {}
    core::Result<void> header(const std::vector<TableColumn>& columns) override;
    core::Result<void> row(std::span<const std::string> cells) override;
    core::Result<void> finish() override;

private:
    std::ostream& out_;
};

/// A workbook of Office Open XML (ECMA-376) with one sheet: the header frozen and bold, numbers and dates as
/// such, every other cell as text whatever it begins with, so that none of them is a formula.
class XlsxSink : public TableSink {
public:
    explicit XlsxSink(const std::string& sheetName);
    ~XlsxSink() override;
    core::Result<void> header(const std::vector<TableColumn>& columns) override;
    /// Errors: Unsupported for a text or a table larger than a sheet can hold; the sentence names the place.
    core::Result<void> row(std::span<const std::string> cells) override;
    core::Result<void> finish() override;
    /// The workbook's bytes, after finish().
    const std::string& bytes() const { return bytes_; }

private:
    struct Book;
    core::Result<void> put(std::size_t column, const std::string& cell);

    std::unique_ptr<Book> book_;
    std::vector<TableColumn> columns_;
    std::vector<std::size_t> widths_; ///< of the longest cell, in characters
    std::uint32_t nextRow_ = 0;
    std::string bytes_;
};

} // namespace milehold::storage
