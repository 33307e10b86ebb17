// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/database/change_row.h"
#include "storage/database/hash.h"
#include "storage/database/text.h"
#include "tests/fuzz/promise.h"
#include "tests/fuzz/targets.h"

#include <string>
#include <vector>

namespace milehold::fuzz {

namespace {

/// Cuts bytes at every byte 0xff, which no text holds.
std::vector<std::string_view> parts(std::string_view bytes) {
    std::vector<std::string_view> all;
    std::size_t from = 0;
    while (true) {
        const auto to = bytes.find('\xff', from);
        all.push_back(bytes.substr(from, to - from));
        if (to == std::string_view::npos)
            return all;
        from = to + 1;
    }
}

} // namespace

void chain(std::string_view bytes) {
    const auto fields = parts(bytes);
    const std::string hash = storage::chainHash(fields);
    promise(hash.size() == 64, "a hash has 64 digits");
    promise(hash == storage::chainHash(fields), "the same fields have the same hash");
    // A letter that moves over the border of two fields makes another row, though the bytes are the same.
    for (std::size_t i = 0; i + 1 < fields.size() && i < 16; ++i) {
        if (fields[i].empty() || fields[i + 1].data() != fields[i].data() + fields[i].size() + 1)
            continue;
        std::vector<std::string> moved(fields.begin(), fields.end());
        moved[i + 1].insert(0, 1, moved[i].back());
        moved[i].pop_back();
        const std::vector<std::string_view> views(moved.begin(), moved.end());
        promise(storage::chainHash(views) != hash, "where a field ends is part of the hash");
    }
    if (fields.size() > 1) {
        const std::vector<std::string_view> fewer(fields.begin(), fields.end() - 1);
        promise(storage::chainHash(fewer) != hash, "how many fields there are is part of the hash");
    }
    const std::string text(bytes);
    if (storage::isStorableText(text))
        promise(storage::toQt(text).toStdString() == text,
                "a storable text comes back from the database as it was");
    if (const auto at = core::momentFromIso(text))
        promise(core::momentFromIso(core::toIso(*at)) == at, "a moment comes back");
    if (const auto id = core::uuidFromString(text))
        promise(core::uuidFromString(core::toString(*id)) == id, "a key comes back");
    storage::StoredChange row;
    std::string* const cells[] = {&row.sequence, &row.at,  &row.staff,  &row.station, &row.action,
                                  &row.table,    &row.row, &row.fields, &row.before};
    for (std::size_t i = 0; i < std::size(cells) && i < fields.size(); ++i)
        *cells[i] = fields[i];
    const std::string rowHash = storage::hashOf(row);
    row.station += "x";
    promise(storage::hashOf(row) != rowHash, "a changed field changes the row's hash");
}

} // namespace milehold::fuzz
