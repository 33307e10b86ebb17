// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/files/full_check.h"

#include "storage/change_log.h"
#include "storage/database/dialect.h"
#include "storage/database/session.h"
#include "storage/database/sql_name.h"
#include "storage/database/statement.h"
#include "storage/files/facts.h"

#include <array>
#include <sstream>

namespace milehold::storage {

namespace {

struct Rule {
    std::string_view countBroken;
    std::string_view problem;
};

/// Rules across rows that the schema does not hold by itself.
constexpr std::array kRules = {
    Rule{"SELECT count(*) FROM counter WHERE name = 'job' AND next <= (SELECT coalesce(max(number), 0) FROM "
         "job)",
         "the counter of job numbers is behind"},
    Rule{"SELECT count(*) <> 1 FROM shop", "the shop's own row is missing"},
    Rule{"SELECT count(*) FROM odometer o JOIN job j ON j.id = o.job_id WHERE o.vehicle_id <> j.vehicle_id "
         "OR o.shown <> "
         "CASE o.moment WHEN 'in' THEN coalesce(j.odometer_in, -1) ELSE coalesce(j.odometer_out, -1) END",
         "an odometer reading differs from the job that brought it"},
    Rule{"SELECT count(*) FROM job j JOIN job e ON e.id = j.comeback_of WHERE e.vehicle_id <> j.vehicle_id",
         "a comeback points to another vehicle's job"},
    Rule{"SELECT count(*) FROM change_value v WHERE NOT EXISTS (SELECT 1 FROM change_log c WHERE c.seq = "
         "v.seq)",
         "a logged value belongs to no change"},
};

core::Result<void> countServerRows(QSqlDatabase& database, CheckReport& report) {
    const auto names = askPlain(database, dialect::tableNames(Engine::Postgresql), "count the shop");
    if (!names)
        return core::failureOf(names);
    const auto* list = std::get_if<std::string>(&*names);
    std::istringstream tables(list == nullptr ? std::string() : *list);
    for (std::string table; tables >> table;) {
        if (table.starts_with("attachment_")) // pieces of files, no records
            continue;
        const auto rows = askPlain(database, "SELECT count(*) FROM " + sqlName(table), "count the shop");
        if (!rows)
            return core::failureOf(rows);
        if (const auto* number = std::get_if<std::int64_t>(&*rows))
            report.rows += *number;
    }
    return {};
}

core::Result<void> countRows(Session& session, CheckReport& report) {
    if (engineOf(session.database()) == Engine::Postgresql)
        return countServerRows(session.database(), report);
    auto facts =
        readFacts([&](std::string_view sql) { return askPlain(session.database(), sql, "count the shop"); });
    if (!facts)
        return core::failureOf(facts);
    for (const auto& [table, rows] : facts->rows)
        report.rows += rows;
    return {};
}

} // namespace

core::Result<CheckReport> quickCheck(Session& session) {
    CheckReport report;
    if (engineOf(session.database()) == Engine::Postgresql) { // its files are the server's own to check
        if (auto counted = countRows(session, report); !counted)
            return core::failureOf(counted);
        return report;
    }
    const auto sound = askPlain(session.database(), "PRAGMA quick_check(1)", "check the shop");
    if (!sound)
        return core::failureOf(sound);
    if (*sound != textValue("ok"))
        report.problems.emplace_back("the quick check found damage in the file");
    if (report.sound()) {
        if (auto counted = countRows(session, report); !counted)
            return core::failureOf(counted);
    }
    return report;
}

core::Result<CheckReport> fullCheck(Session& session) {
    CheckReport report;
    auto& database = session.database();
    const auto sound =
        engineOf(database) == Engine::Postgresql
            ? core::Result<void>()
            : checkSound([&](std::string_view sql) { return askPlain(database, sql, "check the shop"); });
    if (!sound) {
        if (sound.error().code != core::ErrorCode::Unreadable)
            return core::failureOf(sound);
        report.problems.push_back(sound.error().detail);
        return report;
    }
    for (const auto& rule : kRules) {
        const auto broken = askPlain(database, rule.countBroken, "check the shop's rules");
        if (!broken)
            return core::failureOf(broken);
        if (!isNull(*broken) && *broken != intValue(0))
            report.problems.emplace_back(rule.problem);
    }
    const auto chain = ChangeLog(session).firstBroken();
    if (!chain)
        return core::failureOf(chain);
    if (*chain) {
        report.problems.push_back("the change log was altered from row " + std::to_string(**chain) + " on");
    }
    if (auto counted = countRows(session, report); !counted)
        return core::failureOf(counted);
    return report;
}

} // namespace milehold::storage
