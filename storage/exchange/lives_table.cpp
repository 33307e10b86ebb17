// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/exchange/lives_table.h"

#include "storage/exchange/name_list.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <limits>

namespace milehold::storage {

using core::EndCode;
using core::ErrorCode;
using core::Result;

namespace {

enum Column : std::size_t { Miles, End, Until, LastQuiet, Entry, Group, Stratum, Vehicle, Weight, kColumns };

constexpr std::array<std::string_view, kColumns> kColumnNames = {
    "miles", "end", "until", "last_quiet", "entry", "group", "stratum", "vehicle", "weight"};
constexpr std::size_t kAbsent = std::numeric_limits<std::size_t>::max();

constexpr std::string_view kMilesWanted = "expected a number of 0 or more";
constexpr std::string_view kWeightWanted = "expected a number above 0";

// A cell as it may stand in a sentence: short, on one line.
std::string quotedCell(std::string_view cell) {
    constexpr std::size_t kShown = 40;
    std::string text = "'";
    std::size_t shown = std::min(cell.size(), kShown);
    while (shown < cell.size() && shown > 0 && (static_cast<unsigned char>(cell[shown]) & 0xC0U) == 0x80U)
        --shown;
    for (const char c : cell.substr(0, shown))
        text += static_cast<unsigned char>(c) < 0x20 ? ' ' : c;
    return text + (shown < cell.size() ? "...'" : "'");
}

enum class NumberFault : std::uint8_t { None, NotANumber, NotFinite };

// Whole numbers of up to 15 digits, nearly all there are, are exact without the general conversion.
NumberFault parseNumber(std::string_view cell, double& value) {
    if (!cell.empty() && cell.size() <= 15) {
        std::uint64_t whole = 0;
        std::size_t i = 0;
        for (; i < cell.size(); ++i) {
            const unsigned digit = static_cast<unsigned>(cell[i]) - '0';
            if (digit > 9)
                break;
            whole = whole * 10 + digit;
        }
        if (i == cell.size()) {
            value = static_cast<double>(whole);
            return NumberFault::None;
        }
    }
    const auto [rest, problem] = std::from_chars(cell.data(), cell.data() + cell.size(), value);
    if (problem == std::errc::result_out_of_range)
        return NumberFault::NotFinite;
    if (problem != std::errc{} || rest != cell.data() + cell.size())
        return NumberFault::NotANumber;
    if (!std::isfinite(value))
        return NumberFault::NotFinite;
    value += 0.0; // -0 is 0
    return NumberFault::None;
}

// Lower case, letters only: to tell a near miss of the two fixed words.
std::string lettersOf(std::string_view word) {
    std::string letters;
    for (const char c : word) {
        if (c >= 'A' && c <= 'Z')
            letters += static_cast<char>(c - 'A' + 'a');
        else if (c >= 'a' && c <= 'z')
            letters += c;
    }
    return letters;
}

bool hasBlankAround(std::string_view cell) {
    const auto blank = [](char c) { return c == ' ' || c == '\t'; };
    return !cell.empty() && (blank(cell.front()) || blank(cell.back()));
}

class Reader {
public:
    Reader(ByteSource source, const std::string& name, const LivesTableOptions& options)
        : rows_(std::move(source), name), options_(options), name_(name) {}

    Result<LivesTable> read();

private:
    Result<void> readHeader();
    Result<void> keepFactors();
    Result<void> readRow(std::span<const std::string_view> cells);
    Result<void> readLastQuiet(std::string_view text, std::string_view miles);
    Result<double> number(Column column, std::string_view cell, std::string_view wanted) const;
    Result<EndCode> endOf(std::string_view cell);
    tl::unexpected<core::Error> wrong(Column column, const std::string& what) const;
    void finish();

    bool has(Column column) const { return at_[column] != kAbsent; }
    std::string_view cell(std::span<const std::string_view> cells, Column column) const {
        return cells[at_[column]];
    }

    CsvRows rows_;
    const LivesTableOptions& options_;
    std::string name_;
    LivesTable table_;
    std::array<std::size_t, kColumns> at_{};
    std::vector<std::size_t> factorAt_;
    std::vector<NameList> factorLevels_;
    NameList ends_{{"holding", "came-back"}};
    NameList groups_;
    NameList strata_;
    NameList vehicles_;
};

tl::unexpected<core::Error> Reader::wrong(Column column, const std::string& what) const {
    return core::fail(ErrorCode::InvalidInput,
                      rows_.place() + ": column " + std::string(kColumnNames[column]) + ": " + what);
}

Result<void> Reader::readHeader() {
    const auto first = rows_.next();
    if (!first)
        return core::failureOf(first);
    if (!*first)
        return core::fail(ErrorCode::InvalidInput,
                          name_ +
                              ":1: the table is empty; expected a header row with the columns miles and end");
    at_.fill(kAbsent);
    for (const std::string_view cell : rows_.cells()) {
        if (std::find(table_.columns.begin(), table_.columns.end(), cell) != table_.columns.end())
            return core::fail(ErrorCode::InvalidInput,
                              rows_.place() + ": column " + quotedCell(cell) +
                                  " stands twice in the header; expected each name once");
        const auto known = std::find(kColumnNames.begin(), kColumnNames.end(), cell);
        if (known != kColumnNames.end())
            at_[static_cast<std::size_t>(known - kColumnNames.begin())] = table_.columns.size();
        table_.columns.emplace_back(cell);
    }
    for (const Column needed : {Miles, End, Vehicle, Stratum}) {
        const bool wanted =
            needed == Vehicle ? options_.needVehicle : needed != Stratum || options_.needStratum;
        if (has(needed) || !wanted)
            continue;
        std::string found;
        for (const std::string& column : table_.columns) {
            if (found.size() > 200)
                break;
            found += (found.empty() ? "" : ", ") + quotedCell(column);
        }
        return core::fail(ErrorCode::InvalidInput,
                          rows_.place() + ": column " + std::string(kColumnNames[needed]) +
                              " is missing; expected it in the header, which has " + found);
    }
    return keepFactors();
}

Result<void> Reader::keepFactors() {
    for (const std::string& wanted : options_.factors) {
        const auto found = std::find(table_.columns.begin(), table_.columns.end(), wanted);
        if (found == table_.columns.end())
            return core::fail(ErrorCode::InvalidInput,
                              rows_.place() + ": column " + quotedCell(wanted) +
                                  " is missing; expected it in the header, as it was asked for");
        factorAt_.push_back(static_cast<std::size_t>(found - table_.columns.begin()));
        table_.factors.push_back({wanted, {}, {}});
    }
    for (const std::string& wanted : options_.ifThere) {
        const auto found = std::find(table_.columns.begin(), table_.columns.end(), wanted);
        if (found == table_.columns.end())
            continue;
        factorAt_.push_back(static_cast<std::size_t>(found - table_.columns.begin()));
        table_.factors.push_back({wanted, {}, {}});
    }
    factorLevels_.resize(factorAt_.size());
    return {};
}

Result<double> Reader::number(Column column, std::string_view cell, std::string_view wanted) const {
    double value = 0;
    const NumberFault fault = parseNumber(cell, value);
    if (fault == NumberFault::None)
        return value;
    if (cell.empty())
        return wrong(column, "the cell is empty; " + std::string(wanted));
    return wrong(column,
                 quotedCell(cell) +
                     (fault == NumberFault::NotFinite ? " is not a finite number; " : " is not a number; ") +
                     std::string(wanted));
}

Result<EndCode> Reader::endOf(std::string_view cell) {
    if (cell.empty())
        return wrong(End, "the cell is empty; expected came-back, holding or the name of another end");
    if (hasBlankAround(cell))
        return wrong(End, quotedCell(cell) + " has blanks around it; expected the bare word");
    const std::uint32_t code = ends_.indexOf(cell);
    if (code > std::numeric_limits<EndCode>::max())
        return wrong(End, "more than 65,536 different ends; expected a few words");
    return static_cast<EndCode>(code);
}

Result<void> Reader::readRow(std::span<const std::string_view> cells) {
    if (cells.size() != table_.columns.size())
        return core::fail(ErrorCode::InvalidInput,
                          rows_.place() + ": the row has " + std::to_string(cells.size()) +
                              (cells.size() == 1 ? " cell" : " cells") + "; expected " +
                              std::to_string(table_.columns.size()) + " as in the header");
    core::Lives& lives = table_.lives;

    const auto miles = number(Miles, cell(cells, Miles), kMilesWanted);
    if (!miles)
        return core::failureOf(miles);
    if (*miles < 0)
        return wrong(Miles, quotedCell(cell(cells, Miles)) + " is negative; " + std::string(kMilesWanted));
    lives.miles.push_back(*miles);

    const auto end = endOf(cell(cells, End));
    if (!end)
        return core::failureOf(end);
    lives.end.push_back(*end);

    if (has(Until)) {
        const std::string_view text = cell(cells, Until);
        double until = *miles;
        if (!text.empty()) {
            if (*end != core::kCameBack)
                return wrong(Until, "is " + quotedCell(text) +
                                        " on a life that did not come back; expected an empty cell");
            if (options_.histories)
                return wrong(
                    Until,
                    "is " + quotedCell(text) +
                        " but a history needs each comeback at a known mileage; expected an empty cell");
            const auto value = number(Until, text, "expected a number above miles, or an empty cell");
            if (!value)
                return core::failureOf(value);
            if (!(*value > *miles))
                return wrong(Until, quotedCell(text) + " is not above miles " +
                                        quotedCell(cell(cells, Miles)) +
                                        "; expected a larger number, or an empty cell");
            until = *value;
        }
        lives.until.push_back(until);
    }
    if (has(Entry)) {
        const std::string_view text = cell(cells, Entry);
        double entry = 0;
        if (!text.empty()) {
            const auto value = number(Entry, text, "expected a number of 0 or more, below miles");
            if (!value)
                return core::failureOf(value);
            entry = *value;
        }
        if (entry < 0)
            return wrong(Entry, quotedCell(text) + " is negative; " + std::string(kMilesWanted));
        if (entry >= *miles && !(entry == 0 && *miles == 0))
            return wrong(Entry, quotedCell(text) + " is not below miles " + quotedCell(cell(cells, Miles)) +
                                    "; expected a smaller number");
        if (options_.histories && entry > 0)
            return wrong(
                Entry, "is " + quotedCell(text) +
                           " but a history is watched from its first repair on; expected 0 or an empty cell");
        lives.entry.push_back(entry);
    }
    if (has(LastQuiet))
        if (auto read = readLastQuiet(cell(cells, LastQuiet), cell(cells, Miles)); !read)
            return read;
    if (has(Weight)) {
        const std::string_view text = cell(cells, Weight);
        const auto weight = number(Weight, text, kWeightWanted);
        if (!weight)
            return core::failureOf(weight);
        if (!(*weight > 0))
            return wrong(Weight, quotedCell(text) + " is not above 0; " + std::string(kWeightWanted));
        if (options_.histories && *weight != 1)
            return wrong(Weight, "is " + quotedCell(text) + " but a history is one vehicle's; expected 1");
        lives.weight.push_back(*weight);
    }
    if (has(Group))
        lives.group.push_back(groups_.indexOf(cell(cells, Group)));
    if (has(Stratum))
        lives.stratum.push_back(strata_.indexOf(cell(cells, Stratum)));
    if (has(Vehicle)) {
        const std::string_view text = cell(cells, Vehicle);
        if (text.empty() && options_.needVehicle)
            return wrong(Vehicle, "the cell is empty; expected the name of the vehicle");
        lives.vehicle.push_back(vehicles_.indexOf(text));
    }
    for (std::size_t k = 0; k < factorAt_.size(); ++k)
        table_.factors[k].level.push_back(factorLevels_[k].indexOf(cells[factorAt_[k]]));
    return {};
}

// A comeback that was seen at `miles` and last known quiet before: for step curves it stands where it was
// seen.
Result<void> Reader::readLastQuiet(std::string_view text, std::string_view miles) {
    core::Lives& lives = table_.lives;
    const double seen = lives.miles.back();
    if (options_.keepIntervals && !has(Until))
        lives.until.push_back(seen);
    if (text.empty())
        return {};
    if (lives.end.back() != core::kCameBack)
        return wrong(LastQuiet,
                     "is " + quotedCell(text) + " on a life that did not come back; expected an empty cell");
    if (has(Until) && lives.until.back() > seen)
        return wrong(LastQuiet, "is " + quotedCell(text) +
                                    " beside a cell in column until; expected one of the two to be empty");
    const auto quiet = number(LastQuiet, text, "expected a number below miles, or an empty cell");
    if (!quiet)
        return core::failureOf(quiet);
    if (*quiet < 0 || *quiet >= seen)
        return wrong(LastQuiet, quotedCell(text) + " is not between 0 and miles " + quotedCell(miles) +
                                    "; expected a number below miles, or an empty cell");
    if (has(Entry) && lives.entry.back() > 0 && *quiet <= lives.entry.back())
        return wrong(LastQuiet,
                     quotedCell(text) + " is not above entry; expected a larger number, or an empty cell");
    if (options_.keepIntervals) {
        lives.miles.back() = *quiet;
        lives.until.back() = seen;
    }
    return {};
}

void Reader::finish() {
    core::Lives& lives = table_.lives;
    lives.endNames = ends_.take();
    for (std::size_t code = core::kFirstOtherEnd; code < lives.endNames.size(); ++code) {
        const std::string letters = lettersOf(lives.endNames[code]);
        for (const std::size_t fixed : {core::kHolding, core::kCameBack})
            if (letters == lettersOf(lives.endNames[fixed]))
                table_.warnings.push_back(name_ + ": column end: " + quotedCell(lives.endNames[code]) +
                                          " is taken as an end of its own, not as " + lives.endNames[fixed]);
    }
    if (has(Group))
        lives.groupNames = groups_.take();
    if (has(Stratum))
        lives.stratumNames = strata_.take();
    if (has(Vehicle))
        lives.vehicleNames = vehicles_.take();
    for (std::size_t k = 0; k < factorAt_.size(); ++k)
        table_.factors[k].levels = factorLevels_[k].take();
    core::sortGroups(lives);
}

Result<LivesTable> Reader::read() {
    if (auto header = readHeader(); !header)
        return core::failureOf(header);
    for (;;) {
        const auto more = rows_.next();
        if (!more)
            return core::failureOf(more);
        if (!*more)
            break;
        if (auto row = readRow(rows_.cells()); !row)
            return core::failureOf(row);
    }
    if (table_.lives.size() == 0)
        return core::fail(ErrorCode::InvalidInput,
                          name_ + ":" + std::to_string(rows_.line()) +
                              ": the table has a header and no lives; expected at least one row");
    finish();
    return std::move(table_);
}

} // namespace

std::optional<std::vector<double>> FactorColumn::numbers() const {
    std::vector<double> values(levels.size());
    for (std::size_t i = 0; i < levels.size(); ++i)
        if (parseNumber(levels[i], values[i]) != NumberFault::None)
            return std::nullopt;
    return values;
}

Result<LivesTable> readLivesTable(const std::string& path, const LivesTableOptions& options) {
    auto source = openBytes(path);
    if (!source)
        return core::failureOf(source);
    return readLivesTable(std::move(*source), nameOfSource(path), options);
}

Result<LivesTable> readLivesTable(ByteSource source, const std::string& name,
                                  const LivesTableOptions& options) {
    return Reader(std::move(source), name, options).read();
}

} // namespace milehold::storage
