// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/change_log.h"

#include "storage/database/change_row.h"
#include "storage/database/each_row.h"
#include "storage/database/hash.h"
#include "storage/database/statement.h"
#include "storage/database/text.h"

#include <QJsonArray>
#include <QJsonDocument>
#include <QJsonObject>

#include <array>
#include <string>

namespace milehold::storage {

namespace {

constexpr std::string_view kColumns =
    "SELECT seq, at, staff_id, station, action, table_name, row_id, fields, "
    "hash_before, hash FROM change_log ";

StoredChange storedIn(const Statement& row) {
    return {row.text(0), row.text(1), row.text(2), row.text(3), row.text(4),
            row.text(5), row.text(6), row.text(7), row.text(8), row.text(9)};
}

std::optional<std::string> textOf(const QJsonValue& value) {
    if (value.isString())
        return value.toString().toStdString();
    if (value.isDouble())
        return std::to_string(value.toInteger());
    return std::nullopt;
}

std::optional<ChangeAction> actionOf(std::string_view code) {
    for (const auto action :
         {ChangeAction::Insert, ChangeAction::Update, ChangeAction::Delete, ChangeAction::Export}) {
        if (codeOf(action) == code)
            return action;
    }
    return std::nullopt;
}

tl::unexpected<core::Error> unreadable(const StoredChange& row) {
    return core::fail(core::ErrorCode::Unreadable,
                      "row " + row.sequence + " of the change log cannot be read");
}

/// Puts the personal values of a field beside it, where they were not forgotten.
core::Result<void> addPersonal(Session& session, std::int64_t sequence, FieldChange& field) {
    Statement find(session, "SELECT before, after FROM change_value WHERE seq = :seq AND field = :field",
                   "read a logged value");
    find.bindInt(":seq", sequence).bindText(":field", field.field);
    if (auto ran = find.run(); !ran)
        return ran;
    const auto found = find.next();
    if (!found)
        return core::failureOf(found);
    field.withheld = !*found;
    field.before.reset();
    field.after.reset();
    if (!*found)
        return {};
    if (!find.isNull(0))
        field.before = find.text(0);
    if (!find.isNull(1))
        field.after = find.text(1);
    return {};
}

core::Result<Change> changeIn(Session& session, const Statement& row) {
    const StoredChange stored = storedIn(row);
    Change change;
    change.sequence = row.integer(0);
    const auto at = core::momentFromIso(stored.at);
    const auto action = actionOf(stored.action);
    const auto id = core::uuidFromString(stored.row);
    const QJsonDocument fields = QJsonDocument::fromJson(QByteArray::fromStdString(stored.fields));
    if (!at || !action || !id || !fields.isArray())
        return unreadable(stored);
    change.at = *at;
    if (const auto staff = core::uuidFromString(stored.staff))
        change.who.staff = core::StaffId{*staff};
    change.who.station = stored.station;
    change.action = *action;
    change.table = stored.table;
    change.row = *id;
    change.hash = stored.hash;
    for (const QJsonValue& value : fields.array()) {
        const QJsonObject one = value.toObject();
        FieldChange field{one.value(QStringLiteral("f")).toString().toStdString(),
                          textOf(one.value(QStringLiteral("b"))), textOf(one.value(QStringLiteral("a"))),
                          false};
        if (one.contains(QStringLiteral("p"))) {
            if (auto added = addPersonal(session, change.sequence, field); !added)
                return core::failureOf(added);
        }
        change.fields.push_back(std::move(field));
    }
    return change;
}

core::Result<std::vector<Change>> changes(Session& session, Statement& select) {
    std::vector<Change> found;
    const auto read = eachRow(select, [&]() -> core::Result<void> {
        auto change = changeIn(session, select);
        if (!change)
            return core::failureOf(change);
        found.push_back(std::move(*change));
        return {};
    });
    if (!read)
        return core::failureOf(read);
    return found;
}

/// Whether a kept personal value is the one that entered the chain.
core::Result<bool> personalFits(Session& session, const StoredChange& row) {
    // Most rows hold none, and the walk is over every row: a text that merely looks so costs a parse.
    if (row.fields.find("\"p\"") == std::string::npos)
        return true;
    const QJsonArray fields = QJsonDocument::fromJson(QByteArray::fromStdString(row.fields)).array();
    for (const QJsonValue& value : fields) {
        const QJsonObject one = value.toObject();
        if (!one.contains(QStringLiteral("p")))
            continue;
        Statement find(
            session,
            "SELECT v.before, v.after, s.salt FROM change_value v JOIN private_salt s ON s.row_id = :row "
            "WHERE v.seq = :seq AND v.field = :field",
            "read a logged value");
        find.bindText(":row", row.row)
            .bindInt(":seq", std::stoll(row.sequence))
            .bindText(":field", one.value(QStringLiteral("f")).toString().toStdString());
        if (auto ran = find.run(); !ran)
            return core::failureOf(ran);
        const auto found = find.next();
        if (!found)
            return core::failureOf(found);
        if (!*found)
            continue; // forgotten
        const std::array<QString, 2> keys = {QStringLiteral("b"), QStringLiteral("a")};
        for (int i = 0; i < 2; ++i) {
            const auto expected = textOf(one.value(keys[static_cast<std::size_t>(i)]));
            if (expected.has_value() == find.isNull(i))
                return false;
            if (expected && *expected != hmacSha256(find.text(2), find.text(i)))
                return false;
        }
    }
    return true;
}

} // namespace

core::Result<std::vector<Change>> ChangeLog::of(std::string_view table, const core::Uuid& row) const {
    Statement select(session_,
                     std::string(kColumns) + "WHERE row_id = :row AND table_name = :table ORDER BY seq DESC",
                     "read the change log");
    select.bindId(":row", row).bindText(":table", table);
    return changes(session_, select);
}

core::Result<std::vector<Change>> changesBetween(Session& session, std::int64_t first, std::int64_t last) {
    Statement select(session,
                     std::string(kColumns) + "WHERE seq >= :first AND seq <= :last ORDER BY seq DESC",
                     "read the change log");
    select.bindInt(":first", first).bindInt(":last", last);
    return changes(session, select);
}

core::Result<std::vector<Change>> ChangeLog::newest(std::size_t limit) const {
    Statement select(session_, std::string(kColumns) + "ORDER BY seq DESC LIMIT :limit",
                     "read the change log");
    select.bindInt(":limit", static_cast<std::int64_t>(limit));
    return changes(session_, select);
}

core::Result<ChainHead> ChangeLog::head() const {
    return readChainHead(session_);
}

core::Result<std::optional<std::int64_t>> ChangeLog::firstBroken() const {
    Statement select(session_, std::string(kColumns) + "ORDER BY seq", "walk the change log");
    if (auto ran = select.run(); !ran)
        return core::failureOf(ran);
    std::string before;
    std::int64_t expected = 1;
    while (true) {
        const auto more = select.next();
        if (!more)
            return core::failureOf(more);
        if (!*more)
            return std::optional<std::int64_t>();
        const StoredChange row = storedIn(select);
        if (select.integer(0) != expected || row.before != before || row.hash != hashOf(row)) {
            return std::optional(expected);
        }
        const auto fits = personalFits(session_, row);
        if (!fits)
            return core::failureOf(fits);
        if (!*fits)
            return std::optional(expected);
        before = row.hash;
        ++expected;
    }
}

} // namespace milehold::storage
