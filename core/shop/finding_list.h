// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quantity/date.h"
#include "core/shop/finding.h"
#include "core/shop/shelf.h"

#include <string>
#include <string_view>
#include <utility>

namespace milehold::core {

/// Gathers findings while a record is checked.
class FindingList {
public:
    void error(std::string field, std::string message) {
        add(std::move(field), Severity::Error, std::move(message));
    }
    void warning(std::string field, std::string message) {
        add(std::move(field), Severity::Warning, std::move(message));
    }
    void hint(std::string field, std::string message) {
        add(std::move(field), Severity::Hint, std::move(message));
    }
    void add(std::string field, Severity severity, std::string message);
    void add(const Findings& findings);

    /// An error when `text` holds nothing but white space.
    void needText(std::string field, std::string_view text, std::string message);
    /// Errors for dates that are none and for a second check before the first.
    void checkFreshness(const Freshness& freshness);
    /// Errors for years that are none and for a range that ends before it begins.
    void checkYears(const std::string& field, std::optional<int> from, std::optional<int> to);
    /// An entry of a job's or a path's parts: an error when it names no part of the shelf or fewer than one
    /// of it, a warning when the part is superseded.
    void checkPartEntry(std::size_t index, PartNumberId id, int quantity, const Shelf& shelf);

    /// The findings by field in the order in which the fields came up, the worst first within a field.
    Findings take();

private:
    Findings findings_;
};

/// True when nothing but white space is in `text`.
bool isBlank(std::string_view text);

/// `parts[2].number`: the name of a member of an entry in a list.
std::string entryField(std::string_view list, std::size_t index, std::string_view member = {});

/// The model years that this program takes: the first motor car to a century ahead of the VIN's own range.
inline constexpr int kFirstModelYear = 1886;
inline constexpr int kLastModelYear = 2139;

} // namespace milehold::core
