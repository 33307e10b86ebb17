// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/shelf_draft.h"

#include "app/desktop/shelf_saves.h"
#include "storage/record_text.h"

#include <nlohmann/json.hpp>

namespace milehold::app {
namespace {

using Json = nlohmann::json;

constexpr std::string_view kPrefix = "shelf/";

Json jsonOf(const ui::ShelfRecord& record) {
    return Json::parse(std::visit([](const auto& row) { return storage::recordText(row); }, record));
}

/// Reads the text as each kind of record in turn until the one is found whose table has this name.
template <std::size_t kKind = 0>
core::Result<ui::ShelfRecord> readAs(const std::string& table, const std::string& text) {
    if constexpr (kKind == std::variant_size_v<ui::ShelfRecord>) {
        return core::fail(core::ErrorCode::Unreadable, "not a draft of the shelf: no such kind of record");
    } else {
        using Record = std::variant_alternative_t<kKind, ui::ShelfRecord>;
        if (tableOf(Record{}) != table)
            return readAs<kKind + 1>(table, text);
        auto record = storage::recordFromText<Record>(text);
        if (!record)
            return core::failureOf(record);
        return ui::ShelfRecord(std::move(*record));
    }
}

} // namespace

std::string shelfDraftForm(const ui::ShelfRecord& record) {
    return std::string(kPrefix) + tableOf(record) + "/" + core::toString(ui::idOf(record));
}

bool isShelfDraft(std::string_view form) {
    return form.starts_with(kPrefix);
}

std::string toText(const ui::ShelfDraft& draft) {
    const Json json = {{"draft", 1},
                       {"kind", tableOf(draft.typed)},
                       {"base", jsonOf(draft.base)},
                       {"typed", jsonOf(draft.typed)},
                       {"unfinished", draft.unfinished}};
    return json.dump(-1, ' ', false, Json::error_handler_t::replace);
}

core::Result<ui::ShelfDraft> shelfDraftFromText(std::string_view text) {
    try {
        const Json json = Json::parse(text);
        const auto kind = json.at("kind").get<std::string>();
        auto base = readAs(kind, json.at("base").dump());
        if (!base)
            return core::failureOf(base);
        auto typed = readAs(kind, json.at("typed").dump());
        if (!typed)
            return core::failureOf(typed);
        return ui::ShelfDraft{std::move(*base), std::move(*typed),
                              json.at("unfinished").get<std::map<std::string, std::string>>()};
    } catch (const Json::exception& problem) {
        return core::fail(core::ErrorCode::Unreadable,
                          std::string("not a draft of the shelf: ") + problem.what());
    }
}

core::Result<ui::ShelfRecord> withMyEdits(const ui::ShelfRecord& base, const ui::ShelfRecord& mine,
                                          const ui::ShelfRecord& stored) {
    const Json before = jsonOf(base);
    const Json typed = jsonOf(mine);
    Json merged = jsonOf(stored);
    for (const auto& [field, value] : typed.items())
        if (field != "rev" && value != before.value(field, Json()))
            merged[field] = value;
    return readAs(tableOf(mine), merged.dump());
}

} // namespace milehold::app
