// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/exchange/csv_rows.h"

#include <algorithm>
#include <array>
#include <cerrno>
#include <cstdint>
#include <cstdio>
#include <cstring>
#include <memory>

namespace milehold::storage {

using core::ErrorCode;
using core::Result;

namespace {

/// The first read, which holds most small tables whole; what goes on after it is read in blocks.
constexpr std::size_t kFirstBlock = std::size_t{1} << 13;
constexpr std::size_t kBlock = std::size_t{1} << 18;

// What the scanner has to look at; every other byte is passed over.
enum ByteKind : std::uint8_t { Plain, Comma, Quote, LineFeed, CarriageReturn, Nul, High };

constexpr std::array<std::uint8_t, 256> byteKinds() {
    std::array<std::uint8_t, 256> kinds{};
    for (std::size_t b = 0x80; b < 256; ++b)
        kinds[b] = High;
    kinds[','] = Comma;
    kinds['"'] = Quote;
    kinds['\n'] = LineFeed;
    kinds['\r'] = CarriageReturn;
    kinds[0] = Nul;
    return kinds;
}
constexpr std::array<std::uint8_t, 256> kKinds = byteKinds();

std::uint8_t kindOf(char c) {
    return kKinds[static_cast<unsigned char>(c)];
}

// Well-formed by table 3-7 of the Unicode standard: no overlong forms, no surrogates, nothing past U+10FFFF.
bool isUtf8(std::string_view text) {
    const auto byteAt = [text](std::size_t i) { return static_cast<unsigned char>(text[i]); };
    for (std::size_t i = 0; i < text.size();) {
        const unsigned lead = byteAt(i);
        std::size_t more = 0;
        unsigned low = 0x80;
        unsigned high = 0xBF;
        if (lead < 0x80) {
            ++i;
            continue;
        }
        if (lead >= 0xC2 && lead <= 0xDF)
            more = 1;
        else if (lead >= 0xE0 && lead <= 0xEF)
            more = 2;
        else if (lead >= 0xF0 && lead <= 0xF4)
            more = 3;
        else
            return false;
        if (lead == 0xE0)
            low = 0xA0;
        if (lead == 0xED)
            high = 0x9F;
        if (lead == 0xF0)
            low = 0x90;
        if (lead == 0xF4)
            high = 0x8F;
        if (i + more >= text.size())
            return false;
        if (byteAt(i + 1) < low || byteAt(i + 1) > high)
            return false;
        for (std::size_t k = 2; k <= more; ++k)
            if (byteAt(i + k) < 0x80 || byteAt(i + k) > 0xBF)
                return false;
        i += more + 1;
    }
    return true;
}

} // namespace

std::string nameOfSource(const std::string& path) {
    return path == "-" ? "standard input" : path;
}

Result<ByteSource> openBytes(const std::string& path) {
    std::shared_ptr<std::FILE> file;
    if (path == "-") {
        file.reset(stdin, [](std::FILE*) {});
    } else {
        std::FILE* opened = std::fopen(path.c_str(), "rb");
        if (opened == nullptr) {
            const int why = errno;
            return core::fail(why == ENOENT ? ErrorCode::NotFound : ErrorCode::Unreadable,
                              path + ": cannot be opened (" + std::strerror(why) +
                                  "); expected a readable file");
        }
        file.reset(opened, [](std::FILE* f) { (void)std::fclose(f); });
        (void)std::setvbuf(opened, nullptr, _IONBF, 0);
    }
    return ByteSource([file, name = nameOfSource(path)](char* into, std::size_t room) -> Result<std::size_t> {
        const std::size_t got = std::fread(into, 1, room, file.get());
        const int why = errno;
        if (got == 0 && std::ferror(file.get()) != 0)
            return core::fail(ErrorCode::Unreadable, name + ": cannot be read (" + std::strerror(why) +
                                                         "); expected a readable file");
        return got;
    });
}

ByteSource bytesOf(std::string_view text) {
    return [text](char* into, std::size_t room) mutable -> Result<std::size_t> {
        const std::size_t taken = std::min(room, text.size());
        std::copy_n(text.data(), taken, into);
        text.remove_prefix(taken);
        return taken;
    };
}

CsvRows::CsvRows(ByteSource source, std::string name)
    : source_(std::move(source)), name_(std::move(name)), buffer_(kFirstBlock) {}

std::string CsvRows::place() const {
    return name_ + ":" + std::to_string(line_);
}

bool CsvRows::bad(std::size_t line, std::string what) {
    problem_ = name_ + ":" + std::to_string(line) + ": " + std::move(what);
    return false;
}

Result<bool> CsvRows::refill() {
    // Only a source that had more than there was room for gets the large block: most tables are small.
    const bool wasFilled = hasRead_ && end_ == buffer_.size();
    if (begin_ > 0) {
        std::memmove(buffer_.data(), buffer_.data() + begin_, end_ - begin_);
        end_ -= begin_;
        begin_ = 0;
    }
    if (buffer_.size() < kBlock && wasFilled)
        buffer_.resize(kBlock);
    else if (end_ == buffer_.size())
        buffer_.resize(std::min(buffer_.size() * 2, kLongestRow + kBlock));
    const auto got = source_(buffer_.data() + end_, buffer_.size() - end_);
    if (!got)
        return core::failureOf(got);
    hasRead_ = true;
    end_ += *got;
    if (*got == 0)
        atEnd_ = true;
    return *got > 0;
}

// Stands on the opening quote; leaves `at` one past the closing one and the content in cells_.
CsvRows::Scan CsvRows::scanQuoted(std::size_t& at) {
    const char* const data = buffer_.data();
    const std::size_t content = ++at;
    bool doubled = false;
    for (;;) {
        const void* quote = std::memchr(data + at, '"', end_ - at);
        if (quote == nullptr) {
            at = end_;
            if (!atEnd_)
                return Scan::NeedMore;
            bad(line_, "a quoted cell is never closed; expected a closing quotation mark");
            return Scan::Bad;
        }
        at = static_cast<std::size_t>(static_cast<const char*>(quote) - data);
        if (at + 1 == end_ && !atEnd_)
            return Scan::NeedMore;
        if (at + 1 < end_ && data[at + 1] == '"') {
            doubled = true;
            at += 2;
            continue;
        }
        break;
    }
    const std::string_view raw(data + content, at - content);
    nextLine_ += static_cast<std::size_t>(std::count(raw.begin(), raw.end(), '\n'));
    if (raw.find('\0') != std::string_view::npos) {
        bad(line_, "a NUL byte stands in a cell; expected text");
        return Scan::Bad;
    }
    if (doubled) {
        std::string& text = unescaped_.emplace_back();
        for (std::size_t i = 0; i < raw.size(); ++i) {
            text.push_back(raw[i]);
            if (raw[i] == '"')
                ++i;
        }
        cells_.emplace_back(text);
    } else {
        cells_.push_back(raw);
    }
    ++at;
    return Scan::Row;
}

CsvRows::Scan CsvRows::scanRow() {
    const char* const data = buffer_.data();
    cells_.clear();
    unescaped_.clear();
    nextLine_ = line_;
    std::size_t at = begin_;
    std::size_t cell = at;
    bool quoted = false; // the cell just read was a quoted one and is in cells_ already
    bool high = false;
    for (;;) {
        std::uint8_t kind = LineFeed;
        while (at < end_ && (kind = kindOf(data[at])) == Plain && !quoted)
            ++at;
        if (at == end_) {
            if (!atEnd_)
                return Scan::NeedMore;
            kind = LineFeed; // the last line lacks its end
        }
        if (kind == High && !quoted) {
            high = true;
            ++at;
            continue;
        }
        if (kind == Quote && at == cell && !quoted) {
            const Scan scan = scanQuoted(at);
            if (scan != Scan::Row)
                return scan;
            quoted = true;
            high = true; // its content was not looked at
            continue;
        }
        std::size_t past = at + 1;
        if (kind == CarriageReturn) {
            if (past == end_ && !atEnd_)
                return Scan::NeedMore;
            if (past < end_ && data[past] == '\n') {
                kind = LineFeed;
                ++past;
            }
        }
        if (kind != Comma && kind != LineFeed) {
            if (quoted)
                bad(nextLine_,
                    "text follows a closing quotation mark; expected a comma or the end of the line");
            else if (kind == Quote)
                bad(line_, "a quotation mark stands inside an unquoted cell; expected the whole cell "
                           "in quotation marks, with those inside doubled");
            else if (kind == Nul)
                bad(line_, "a NUL byte stands in a cell; expected text");
            else
                bad(line_, "a carriage return stands alone; expected lines ending in LF or CRLF");
            return Scan::Bad;
        }
        if (!quoted)
            cells_.emplace_back(data + cell, at - cell);
        if (kind == LineFeed) {
            if (at - begin_ > kLongestRow)
                return Scan::NeedMore; // next() words it
            if (high && !isUtf8({data + begin_, at - begin_})) {
                bad(line_, "the line is not UTF-8; expected a table saved as UTF-8");
                return Scan::Bad;
            }
            blank_ = at == begin_;
            begin_ = std::min(past, end_);
            ++nextLine_;
            return Scan::Row;
        }
        cell = at = past;
        quoted = false;
    }
}

Result<bool> CsvRows::next() {
    if (!started_) {
        started_ = true;
        while (end_ < 3 && !atEnd_)
            if (const auto more = refill(); !more)
                return core::failureOf(more);
        const std::string_view head(buffer_.data(), end_);
        if (head.substr(0, 3) == "\xEF\xBB\xBF")
            begin_ = 3;
        else if (head.substr(0, 2) == "\xFF\xFE" || head.substr(0, 2) == "\xFE\xFF")
            return core::fail(ErrorCode::InvalidInput,
                              name_ + ":1: the text is UTF-16; expected a table saved as UTF-8");
    }
    for (;;) {
        line_ = nextLine_;
        if (begin_ == end_ && atEnd_)
            return false;
        const Scan scan = scanRow();
        if (scan == Scan::Bad)
            return core::fail(ErrorCode::InvalidInput, problem_);
        if (scan == Scan::Row) {
            if (blank_)
                continue;
            return true;
        }
        nextLine_ = line_;
        if (end_ - begin_ > kLongestRow)
            return core::fail(ErrorCode::InvalidInput, place() + ": the line is longer than " +
                                                           std::to_string(kLongestRow) +
                                                           " bytes; expected one life a line");
        if (const auto more = refill(); !more)
            return core::failureOf(more);
    }
}

} // namespace milehold::storage
