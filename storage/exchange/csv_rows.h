// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"

#include <cstddef>
#include <deque>
#include <functional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace milehold::storage {

/// Where bytes come from: fills at most `room` bytes and says how many; 0 is the end.
using ByteSource = std::function<core::Result<std::size_t>(char* into, std::size_t room)>;

/// Bytes of a file, or of standard input for "-".
/// Errors: NotFound, Unreadable (a directory, no permission), each with a sentence that begins with the name.
core::Result<ByteSource> openBytes(const std::string& path);

/// Bytes of a text that outlives the source.
ByteSource bytesOf(std::string_view text);

/// How a path is called in sentences: itself, "standard input" for "-".
std::string nameOfSource(const std::string& path);

/// Rows of a table in RFC 4180 form, read strictly and in one pass: a row is never guessed at.
///
/// Lines end in LF or CRLF, the last one may lack its end; lines without any character are skipped. A leading
/// byte order mark is dropped. Text is UTF-8. A cell is what stands between the commas, blanks included.
class CsvRows {
public:
    static constexpr std::size_t kLongestRow = std::size_t{1} << 20; ///< bytes; nothing sane is longer

    CsvRows(ByteSource source, std::string name);

    /// Goes to the next row; false at the end.
    /// Errors: InvalidInput as `NAME:LINE: what is wrong and what was expected` for a stray or missing quote,
    /// a NUL,
    ///         bytes that are not UTF-8, a lone carriage return, a row longer than kLongestRow; the source's
    ///         own.
    core::Result<bool> next();

    /// Cells of the row, valid until the next call of next().
    std::span<const std::string_view> cells() const { return cells_; }

    /// Line of the file on which the row begins, from 1.
    std::size_t line() const { return line_; }

    /// "NAME:LINE", the beginning of every sentence about this row.
    std::string place() const;

private:
    enum class Scan { Row, NeedMore, Bad };

    Scan scanRow();
    Scan scanQuoted(std::size_t& at);
    core::Result<bool> refill();
    bool bad(std::size_t line, std::string what);

    ByteSource source_;
    std::string name_;
    std::vector<char> buffer_;
    std::size_t begin_ = 0; ///< first byte of the row to come
    std::size_t end_ = 0;   ///< one past the last byte read
    bool atEnd_ = false;
    bool hasRead_ = false;
    bool started_ = false;
    bool blank_ = false; ///< the row just scanned has no character
    std::size_t line_ = 0;
    std::size_t nextLine_ = 1;
    std::vector<std::string_view> cells_;
    std::deque<std::string> unescaped_; ///< cells with doubled quotes; a deque keeps their addresses
    std::string problem_;
};

} // namespace milehold::storage
