// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QString>

#include <string>
#include <string_view>
#include <vector>

namespace milehold::storage {

/// True for what a text column takes and gives back: well-formed UTF-8 without U+0000 and without a byte
/// order mark at its start, which the database would drop.
bool isStorableText(std::string_view text);

inline QString toQt(std::string_view text) {
    return QString::fromUtf8(text.data(), static_cast<qsizetype>(text.size()));
}

/// Text as searches compare it: compatibility forms undone, accents dropped, case folded, blanks trimmed.
std::string folded(std::string_view text);
/// The folded words of a name, distinct, in the order in which they stand.
std::vector<std::string> foldedWords(std::string_view text);
/// Letters raised (those outside ASCII too) and digits, as plates, VINs and repair orders are compared.
std::string codeKey(std::string_view text);
/// The greatest text of all that begin with `prefix`: the upper end of an indexed prefix query.
std::string prefixEnd(std::string_view prefix);

} // namespace milehold::storage
