// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/database/sql_error.h"

#include <sqlite3.h>

#include <algorithm>
#include <string>

namespace milehold::storage {

namespace {

using core::ErrorCode;

ErrorCode kindOf(int extendedCode) {
    switch (extendedCode & 0xff) {
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
    case SQLITE_PROTOCOL:
        return ErrorCode::InUse;
    case SQLITE_READONLY:
    case SQLITE_PERM:
    case SQLITE_AUTH:
        return ErrorCode::ReadOnly;
    case SQLITE_FULL:
    case SQLITE_IOERR:
    case SQLITE_CANTOPEN:
    case SQLITE_NOLFS:
        return ErrorCode::DiskProblem;
    case SQLITE_CORRUPT:
    case SQLITE_NOTADB:
    case SQLITE_FORMAT:
        return ErrorCode::Unreadable;
    case SQLITE_CONSTRAINT:
    case SQLITE_TOOBIG:
    case SQLITE_MISMATCH:
        return ErrorCode::InvalidInput;
    default:
        return ErrorCode::Internal;
    }
}

/// The rule that was broken, when SQLite names one of ours: `vehicle.vin`, or the sentence of a trigger.
std::string brokenRule(std::string_view message) {
    const auto at = message.find("constraint failed: ");
    if (at != std::string_view::npos) {
        std::string_view name = message.substr(at + 19);
        const bool plain = std::ranges::all_of(name, [](char c) {
            return (c >= 'a' && c <= 'z') || c == '_' || c == '.' || c == ',' || c == ' ';
        });
        return plain ? std::string(name) : std::string();
    }
    // Sentences of our own triggers end with a full stop and hold small letters only.
    const bool ours = message.starts_with("rule: ") && std::ranges::all_of(message, [](char c) {
                          return (c >= 'a' && c <= 'z') || c == ' ' || c == ',' || c == ':';
                      });
    return ours ? std::string(message.substr(6)) : std::string();
}

} // namespace

core::Error sqlError(int extendedCode, std::string_view message, std::string_view what) {
    std::string detail(what);
    detail += ": ";
    detail += sqlite3_errstr(extendedCode);
    detail += " (SQLite " + std::to_string(extendedCode) + ")";
    if ((extendedCode & 0xff) == SQLITE_CONSTRAINT) {
        if (const auto rule = brokenRule(message); !rule.empty())
            detail += ", " + rule;
    }
    return {kindOf(extendedCode), std::move(detail)};
}

core::Error sqlError(const QSqlError& error, std::string_view what) {
    bool isNumber = false;
    const int code = error.nativeErrorCode().toInt(&isNumber);
    QString text = error.databaseText();
    // Qt puts its own words before the database's.
    if (const auto blank = text.indexOf(QLatin1String(" Unable")); blank > 0)
        text.truncate(blank);
    return sqlError(isNumber ? code : SQLITE_ERROR, text.toStdString(), what);
}

} // namespace milehold::storage
