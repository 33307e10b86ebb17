// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/exchange/support_file.h"

#include "core/quantity/date.h"
#include "core/shop/id.h"
#include "storage/database/dialect.h"
#include "storage/database/sql_name.h"
#include "storage/database/statement.h"
#include "storage/database/text.h"
#include "storage/exchange/exchange_store.h"
#include "storage/files/durable.h"
#include "storage/server/copy_table.h"
#include "storage/shop.h"

#include <QJsonArray>
#include <QJsonDocument>
#include <QJsonObject>

#include <algorithm>
#include <array>
#include <fstream>
#include <unordered_map>

namespace milehold::storage {

using core::ErrorCode;

namespace {

/// Keys are made by chance and tell nothing outside the shop.
constexpr std::array<std::string_view, 20> kKeys = {"id",
                                                    "job_id",
                                                    "vehicle_id",
                                                    "customer_id",
                                                    "path_id",
                                                    "part_id",
                                                    "family_id",
                                                    "staff_id",
                                                    "technician_id",
                                                    "advisor_id",
                                                    "follow_up_id",
                                                    "calibration_id",
                                                    "subject_id",
                                                    "row_id",
                                                    "comeback_of",
                                                    "superseded_by",
                                                    "supersedes",
                                                    "decided_by",
                                                    "needs_calibration",
                                                    "excludes_calibration"};
constexpr std::array<std::string_view, 11> kDays = {
    "date",           "written_up",     "started", "delivered", "introduced_on", "released_on", "checked_on",
    "check_again_by", "claim_deadline", "call_on", "at"};
/// Columns that hold one of the program's own codes.
constexpr std::array<std::string_view, 22> kCodes = {"shop.unit",
                                                     "shop.currency",
                                                     "part_number.component",
                                                     "engine_position.position",
                                                     "path_part.position",
                                                     "job_part.position",
                                                     "shelf_note.subject",
                                                     "odometer.source",
                                                     "odometer.moment",
                                                     "job.kind",
                                                     "job.concern_group",
                                                     "job.delivery_check",
                                                     "job.oil_level",
                                                     "job.oil_condition",
                                                     "job.comeback_decision",
                                                     "job.payer",
                                                     "job.claim_state",
                                                     "follow_up.outcome",
                                                     "attachment.kind",
                                                     "counter.name",
                                                     "change_log.action",
                                                     "change_log.table_name"};
/// Tables of which only the number of rows is told: made from others for searching, or secret.
constexpr std::array<std::string_view, 3> kCountedOnly = {"customer_word", "change_value", "private_salt"};
/// Hashes would say whether two shops hold the same photo, and the log's own are of no use without its
/// values.
constexpr std::array<std::string_view, 4> kLeftOut = {"hash", "hash_before", "digits", "last_digits"};
constexpr std::size_t kLongestCode = 40;

template <std::size_t kSize>
bool isIn(const std::array<std::string_view, kSize>& names, std::string_view name) {
    return std::ranges::find(names, name) != names.end();
}

bool looksLikeCode(std::string_view text) {
    return text.size() <= kLongestCode && std::ranges::all_of(text, [](char c) {
               return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
                      c == '-' || c == '_';
           });
}

/// A trouble code of the standard's form: a letter and four digits in base 16.
bool isTroubleCode(std::string_view text) {
    constexpr std::string_view kSystems = "PBCU";
    return text.size() == 5 && kSystems.find(text[0]) != std::string_view::npos &&
           std::ranges::all_of(text.substr(1),
                               [](char c) { return (c >= '0' && c <= '9') || (c >= 'A' && c <= 'F'); });
}

/// Which fields a change touched, without what they held.
QString fieldNames(const std::string& fields) {
    QStringList names;
    for (const QJsonValue& field : QJsonDocument::fromJson(QByteArray::fromStdString(fields)).array()) {
        const QString name = field.toObject().value(QLatin1String("f")).toString();
        names << (looksLikeCode(name.toStdString()) ? name : QStringLiteral("?"));
    }
    return names.join(QLatin1Char(' '));
}

class Tokens {
public:
    QString of(const std::string& word) {
        const auto [place, isNew] = numbers_.try_emplace(word, numbers_.size() + 1);
        return QStringLiteral("~%1").arg(place->second);
    }

private:
    std::unordered_map<std::string, std::size_t> numbers_;
};

QJsonValue harmless(const std::string& table, const std::string& column, const std::string& text,
                    Tokens& tokens) {
    if (text.empty())
        return QString();
    if (isIn(kKeys, column) && core::uuidFromString(text))
        return toQt(text);
    if (isIn(kDays, column) && (core::dateFromIso(text) || core::momentFromIso(text)))
        return toQt(text);
    if (isIn(kCodes, table + "." + column) && looksLikeCode(text))
        return toQt(text);
    if (table == "job_code" && column == "code" && isTroubleCode(text))
        return toQt(text);
    if (table == "change_log" && column == "fields")
        return fieldNames(text);
    if (isIn(kLeftOut, column))
        return QStringLiteral("~");
    return tokens.of(text);
}

core::Result<void> put(std::ostream& out, const QJsonDocument& line) {
    out << line.toJson(QJsonDocument::Compact).toStdString() << '\n';
    if (!out)
        return core::fail(ErrorCode::DiskProblem, "the support file could not be written");
    return {};
}

core::Result<QString> engineText(Session& session) {
    const bool onServer = engineOf(session.database()) == Engine::Postgresql;
    const auto version =
        askPlain(session.database(),
                 onServer ? "SELECT current_setting('server_version_num')" : "SELECT sqlite_version()",
                 "ask for the engine's version");
    if (!version)
        return core::failureOf(version);
    const auto* text = std::get_if<std::string>(&*version);
    return (onServer ? QStringLiteral("postgresql ") : QStringLiteral("sqlite ")) +
           (text == nullptr ? QString() : toQt(*text));
}

core::Result<void> writeHead(Shop& shop, Session& session, std::ostream& out) {
    const auto report = shop.verify(CheckDepth::Full);
    if (!report)
        return core::failureOf(report);
    const auto engine = engineText(session);
    if (!engine)
        return core::failureOf(engine);
    const auto schema =
        askPlain(session.database(), "SELECT max(version) FROM schema_migration", "ask for the schema");
    if (!schema)
        return core::failureOf(schema);
    const auto drafts = shop.drafts().list();
    if (!drafts)
        return core::failureOf(drafts);
    const auto backups = shop.backups();
    if (!backups)
        return core::failureOf(backups);
    QJsonArray problems;
    for (const auto& problem : report->problems)
        problems.append(toQt(problem));
    QJsonObject head;
    head.insert(QStringLiteral("milehold_support"), 1);
    head.insert(QStringLiteral("program"), QStringLiteral(MILEHOLD_VERSION));
    head.insert(QStringLiteral("engine"), *engine);
    head.insert(QStringLiteral("schema"), static_cast<qint64>(std::holds_alternative<std::int64_t>(*schema)
                                                                  ? std::get<std::int64_t>(*schema)
                                                                  : 0));
    head.insert(QStringLiteral("made_at"), toQt(core::toIso(session.now())));
    head.insert(QStringLiteral("problems"), problems);
    head.insert(QStringLiteral("drafts"), static_cast<qint64>(drafts->size()));
    head.insert(QStringLiteral("backups"), static_cast<qint64>(backups->size()));
    return put(out, QJsonDocument(head));
}

core::Result<std::int64_t> writeTable(Session& session, const TableShape& table, Tokens& tokens,
                                      std::ostream& out) {
    const auto count =
        askPlain(session.database(), "SELECT count(*) FROM " + sqlName(table.name), "count a table");
    if (!count)
        return core::failureOf(count);
    const auto* number = std::get_if<std::int64_t>(&*count);
    QJsonObject head;
    head.insert(QStringLiteral("table"), toQt(table.name));
    head.insert(QStringLiteral("rows"), static_cast<qint64>(number == nullptr ? 0 : *number));
    const bool countedOnly = isIn(kCountedOnly, table.name);
    QJsonArray columns;
    for (const auto& column : table.columns)
        columns.append(toQt(column));
    if (!countedOnly)
        head.insert(QStringLiteral("columns"), columns);
    if (auto written = put(out, QJsonDocument(head)); !written)
        return core::failureOf(written);
    if (countedOnly)
        return 0;
    return eachRowOf(session, table, [&](const std::vector<Value>& row) {
        QJsonArray cells;
        for (std::size_t i = 0; i < row.size(); ++i) {
            if (const auto* whole = std::get_if<std::int64_t>(&row[i]))
                cells.append(static_cast<qint64>(*whole));
            else if (const auto* text = std::get_if<std::string>(&row[i]))
                cells.append(harmless(table.name, table.columns[i], *text, tokens));
            else
                cells.append(QJsonValue(QJsonValue::Null));
        }
        return put(out, QJsonDocument(cells));
    });
}

} // namespace

core::Result<std::size_t> writeSupport(Shop& shop, std::ostream& out) {
    Session& session = shop.exchange().session();
    if (auto head = writeHead(shop, session, out); !head)
        return core::failureOf(head);
    const auto tables = recordTables(session);
    if (!tables)
        return core::failureOf(tables);
    Tokens tokens;
    std::size_t rows = 0;
    for (const auto& table : *tables) {
        const auto written = writeTable(session, table, tokens, out);
        if (!written)
            return core::failureOf(written);
        rows += static_cast<std::size_t>(*written);
    }
    out.flush();
    if (!out)
        return core::fail(ErrorCode::DiskProblem, "the support file could not be written");
    return rows;
}

core::Result<std::size_t> exportSupport(Shop& shop, const std::filesystem::path& file) {
    std::error_code problem;
    if (std::filesystem::exists(std::filesystem::symlink_status(file, problem)))
        return core::fail(ErrorCode::InvalidInput, "the file exists; expected a name that is free");
    if (auto made = createFile(file, ""); !made) // with its rights, before there is anything in it
        return core::failureOf(made);
    std::ofstream out(file, std::ios::binary | std::ios::app);
    auto rows = writeSupport(shop, out);
    out.close();
    if (rows && !shop.readOnly())
        if (auto noted = shop.exchange().noteExport("support", *rows, true); !noted)
            rows = core::failureOf(noted);
    if (!rows)
        std::filesystem::remove(file, problem);
    return rows;
}

} // namespace milehold::storage
