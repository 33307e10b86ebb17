// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/files/facts.h"

#include "storage/database/dialect.h"
#include "storage/database/sql_name.h"

#include <algorithm>

namespace milehold::storage {

namespace {

core::Result<std::int64_t> askNumber(const Ask& ask, std::string_view sql) {
    auto value = ask(sql);
    if (!value)
        return core::failureOf(value);
    const auto* number = std::get_if<std::int64_t>(&*value);
    if (number == nullptr)
        return core::fail(core::ErrorCode::Unreadable, "a figure of the shop's file is no number");
    return *number;
}

core::Result<std::string> askText(const Ask& ask, std::string_view sql) {
    auto value = ask(sql);
    if (!value)
        return core::failureOf(value);
    auto* text = std::get_if<std::string>(&*value);
    return text == nullptr ? std::string() : std::move(*text);
}

/// Names of our own schema only: anything else in a file that came from elsewhere is not put into SQL.
bool isPlainName(std::string_view name) {
    return !name.empty() &&
           std::ranges::all_of(name, [](char c) { return (c >= 'a' && c <= 'z') || c == '_'; });
}

} // namespace

core::Result<Facts> readFacts(const Ask& ask) {
    Facts facts;
    auto application = askNumber(ask, "PRAGMA application_id");
    if (!application)
        return core::failureOf(application);
    facts.applicationId = *application;
    auto schema = askNumber(ask, "PRAGMA user_version");
    if (!schema)
        return core::failureOf(schema);
    facts.schema = *schema;
    auto names = askText(ask, dialect::tableNames(Engine::Sqlite));
    if (!names)
        return core::failureOf(names);
    std::string_view rest = *names;
    while (!rest.empty()) {
        const auto end = std::min(rest.find(' '), rest.size());
        const std::string name(rest.substr(0, end));
        rest.remove_prefix(std::min(end + 1, rest.size()));
        if (!isPlainName(name))
            return core::fail(core::ErrorCode::NotAShop, "the file holds a table that is not ours");
        auto count = askNumber(ask, "SELECT count(*) FROM " + sqlName(name));
        if (!count)
            return core::failureOf(count);
        facts.rows[name] = *count;
    }
    if (!facts.rows.contains("change_log")) {
        return core::fail(core::ErrorCode::NotAShop, "the file has no change log");
    }
    auto sequence = askNumber(ask, "SELECT coalesce(max(seq), 0) FROM change_log");
    if (!sequence)
        return core::failureOf(sequence);
    auto hash = askText(ask, "SELECT hash FROM change_log ORDER BY seq DESC LIMIT 1");
    if (!hash)
        return core::failureOf(hash);
    facts.head = {*sequence, *hash};
    return facts;
}

core::Result<void> checkSound(const Ask& ask) {
    const auto integrity = ask("PRAGMA integrity_check(1)");
    if (!integrity)
        return core::failureOf(integrity);
    if (*integrity != textValue("ok"))
        return core::fail(core::ErrorCode::Unreadable, "the integrity check found damage");
    const auto dangling = ask(dialect::kForeignKeyCheck);
    if (!dangling)
        return core::failureOf(dangling);
    if (!isNull(*dangling))
        return core::fail(core::ErrorCode::Unreadable, "a record names one that is not there");
    return {};
}

} // namespace milehold::storage
