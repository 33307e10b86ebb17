// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QString>

#include <string>
#include <string_view>
#include <vector>

namespace milehold::storage {

/// True for well-formed UTF-8 without U+0000: what a text column takes.
bool isStorableText(std::string_view text);

/// UTF-8 as Qt's text, a byte order mark at the start kept.
QString toQt(std::string_view text);

/// Text as searches compare it: compatibility forms undone, accents dropped, case folded, blanks trimmed.
std::string folded(std::string_view text);
/// The folded words of a name, distinct, in the order in which they stand.
std::vector<std::string> foldedWords(std::string_view text);
/// Upper case letters and digits only, as plates and VINs are compared.
std::string codeKey(std::string_view text);
/// Digits only.
std::string digitsOf(std::string_view text);
/// The greatest text of all that begin with `prefix`: the upper end of an indexed prefix query.
std::string prefixEnd(std::string_view prefix);

} // namespace milehold::storage
