// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/cli/session.h"

#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace milehold::cli {

/// A cell of an answer: nothing, a number, or words.
using Cell = std::variant<std::monostate, double, std::string>;

inline Cell cellOf(std::optional<double> number) {
    return number ? Cell(*number) : Cell();
}

/// A number as it is read back exactly, in the fewest digits.
std::string fullDigits(double number);

/// One rectangle of an answer: what stands in the text form under a heading of its own.
struct Sheet {
    std::string title;                ///< a heading in words
    std::string part;                 ///< one word for it, the first column of the CSV form
    std::vector<std::string> columns; ///< the names that JSON uses
    std::vector<std::vector<Cell>> rows;
};

/// Appends sheets as aligned text for reading: numbers to at most 6 significant digits after the point, "-"
/// for nothing.
void appendText(std::string& out, const std::vector<Sheet>& sheets);

/// Appends sheets as one CSV table (RFC 4180, LF): column `part`, then every column of any sheet, full
/// digits.
void appendCsv(std::string& out, const std::vector<Sheet>& sheets);

/// Appends sheets in the form of the session, text or CSV.
void appendSheets(Session& session, const std::vector<Sheet>& sheets);

} // namespace milehold::cli
