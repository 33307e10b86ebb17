// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/draft_store.h"

#include "storage/database/each_row.h"
#include "storage/database/statement.h"
#include "storage/database/unit_of_work.h"

namespace milehold::storage {

namespace {

core::Result<std::vector<Draft>> draftsOf(Statement& select) {
    std::vector<Draft> drafts;
    const auto read = eachRow(select, [&]() -> core::Result<void> {
        const auto at = core::momentFromIso(select.text(2));
        if (!at)
            return core::fail(core::ErrorCode::Unreadable, "a draft has no moment");
        drafts.push_back({select.text(0), select.text(1), *at});
        return {};
    });
    if (!read)
        return core::failureOf(read);
    return drafts;
}

} // namespace

core::Result<std::vector<Draft>> DraftStore::list() const {
    Statement select(session_, "SELECT form, text, saved_at FROM draft ORDER BY saved_at DESC, form",
                     "list drafts");
    return draftsOf(select);
}

core::Result<Draft> DraftStore::find(std::string_view form) const {
    Statement select(session_, "SELECT form, text, saved_at FROM draft WHERE form = :form", "find a draft");
    select.bindText(":form", form);
    auto found = draftsOf(select);
    if (!found)
        return core::failureOf(found);
    if (found->empty())
        return core::fail(core::ErrorCode::NotFound, "no draft of this form");
    return std::move(found->front());
}

core::Result<void> DraftStore::keep(std::string_view form, std::string_view text) {
    return inOneUnit(session_, [&](UnitOfWork&) {
        Statement put(session_,
                      "INSERT INTO draft (form, text, saved_at) VALUES (:form, :text, :at) ON CONFLICT "
                      "(form) DO UPDATE "
                      "SET text = excluded.text, saved_at = excluded.saved_at",
                      "keep a draft");
        put.bindText(":form", form).bindText(":text", text).bindText(":at", core::toIso(session_.now()));
        return put.run();
    });
}

core::Result<void> DraftStore::drop(std::string_view form) {
    return inOneUnit(session_, [&](UnitOfWork&) {
        Statement drop(session_, "DELETE FROM draft WHERE form = :form", "drop a draft");
        drop.bindText(":form", form);
        return drop.run();
    });
}

} // namespace milehold::storage
