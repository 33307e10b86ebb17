// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/database/change_row.h"

#include "storage/database/hash.h"
#include "storage/database/json_text.h"
#include "storage/database/statement.h"

namespace milehold::storage {

namespace {

std::string textOf(const Value& value) {
    if (const auto* number = std::get_if<std::int64_t>(&value))
        return std::to_string(*number);
    return std::get<std::string>(value);
}

Value shownAs(const Value& value) {
    return isNull(value) ? Value() : textValue(textOf(value));
}

/// The key under which a record's personal values enter the chain; made at the first need.
core::Result<std::string> privateKey(Session& session, const core::Uuid& row) {
    Statement find(session, "SELECT salt FROM private_salt WHERE row_id = :row", "find a log key");
    find.bindId(":row", row);
    if (auto ran = find.run(); !ran)
        return core::failureOf(ran);
    const auto found = find.next();
    if (!found)
        return core::failureOf(found);
    if (*found)
        return find.text(0);
    std::string key = randomKey();
    Statement add(session, "INSERT INTO private_salt (row_id, salt) VALUES (:row, :salt)", "keep a log key");
    add.bindId(":row", row).bindText(":salt", key);
    if (auto ran = add.run(); !ran)
        return core::failureOf(ran);
    return key;
}

core::Result<void> keepValue(Session& session, std::int64_t sequence, const LoggedField& field) {
    Statement add(
        session,
        "INSERT INTO change_value (seq, field, before, after) VALUES (:seq, :field, :before, :after)",
        "keep a logged value");
    add.bindInt(":seq", sequence)
        .bindText(":field", field.name)
        .bind(":before", shownAs(field.before))
        .bind(":after", shownAs(field.after));
    return add.run();
}

} // namespace

std::string_view codeOf(ChangeAction action) {
    switch (action) {
    case ChangeAction::Insert:
        return "insert";
    case ChangeAction::Update:
        return "update";
    case ChangeAction::Delete:
        return "delete";
    case ChangeAction::Export:
        break;
    }
    return "export";
}

core::Result<ChainHead> readChainHead(Session& session) {
    Statement newest(session, "SELECT seq, hash FROM change_log ORDER BY seq DESC LIMIT 1",
                     "read the log's head");
    if (auto ran = newest.run(); !ran)
        return core::failureOf(ran);
    const auto row = newest.next();
    if (!row)
        return core::failureOf(row);
    if (!*row)
        return ChainHead{};
    return ChainHead{newest.integer(0), newest.text(1)};
}

std::string hashOf(const StoredChange& row) {
    return chainHash({row.before, row.sequence, row.at, row.staff, row.station, row.action, row.table,
                      row.row, row.fields});
}

core::Result<core::Moment> momentAfter(Session& session, const ChainHead& head) {
    const core::Moment now = session.now();
    Statement find(session, "SELECT at FROM change_log WHERE seq = :seq", "read the log's head");
    find.bindInt(":seq", head.sequence);
    if (auto ran = find.run(); !ran)
        return core::failureOf(ran);
    const auto row = find.next();
    if (!row)
        return core::failureOf(row);
    return *row && find.text(0) == core::toIso(now) ? now + std::chrono::milliseconds(1) : now;
}

core::Result<ChainHead> writeChange(Session& session, const ChainHead& head, core::Moment at,
                                    ChangeAction action, std::string_view table, const core::Uuid& row,
                                    const std::vector<LoggedField>& fields) {
    const std::int64_t sequence = head.sequence + 1;
    std::string key;
    std::string list = "[";
    for (const auto& field : fields) {
        list += list.size() == 1 ? "{" : ",{";
        const auto put = [&](std::string_view name, const Value& value) {
            if (isNull(value))
                return;
            list += name;
            appendJson(list, field.personal ? textValue(hmacSha256(key, textOf(value))) : value);
            list += ',';
        };
        if (field.personal) {
            if (key.empty()) {
                auto made = privateKey(session, row);
                if (!made)
                    return core::failureOf(made);
                key = std::move(*made);
            }
        }
        put("\"a\":", field.after);
        put("\"b\":", field.before);
        list += "\"f\":";
        appendJson(list, std::string_view(field.name));
        list += field.personal ? ",\"p\":1}" : "}";
    }
    list += ']';
    StoredChange stored{.sequence = std::to_string(sequence),
                        .at = core::toIso(at),
                        .staff =
                            session.who().staff ? core::toString(session.who().staff->uuid) : std::string(),
                        .station = session.who().station,
                        .action = std::string(codeOf(action)),
                        .table = std::string(table),
                        .row = core::toString(row),
                        .fields = std::move(list),
                        .before = head.hash,
                        .hash = {}};
    stored.hash = hashOf(stored);
    Statement add(
        session,
        "INSERT INTO change_log (seq, at, staff_id, station, action, table_name, row_id, fields, "
        "hash_before, "
        "hash) VALUES (:seq, :at, :staff, :station, :action, :table, :row, :fields, :before, :hash)",
        "write the change log");
    add.bindInt(":seq", sequence)
        .bindText(":at", stored.at)
        .bindText(":staff", stored.staff)
        .bindText(":station", stored.station)
        .bindText(":action", stored.action)
        .bindText(":table", stored.table)
        .bindText(":row", stored.row)
        .bindText(":fields", stored.fields)
        .bindText(":before", stored.before)
        .bindText(":hash", stored.hash);
    if (auto ran = add.run(); !ran)
        return core::failureOf(ran);
    for (const auto& field : fields) {
        if (!field.personal)
            continue;
        if (auto kept = keepValue(session, sequence, field); !kept)
            return core::failureOf(kept);
    }
    return ChainHead{sequence, stored.hash};
}

} // namespace milehold::storage
