// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/database/sql_error.h"

#include "storage/offline.h"

#include <sqlite3.h>

#include <algorithm>
#include <array>
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

/// What classes of SQLSTATE mean to us; the longest beginning that fits counts.
struct State {
    std::string_view begins;
    ErrorCode code;
    std::string_view words;
};

constexpr std::array kStates = {
    State{"08", ErrorCode::Offline, "the connection to the server was lost"},
    State{"57P0", ErrorCode::Offline, "the server is shutting down or ended the connection"},
    State{"25P03", ErrorCode::Offline, "the server ended a transaction that stood still"},
    State{"40", ErrorCode::InUse, "the server gave the transaction up"},
    State{"40001", ErrorCode::GivenUp, "the server gave the transaction up for another's sake"},
    State{"40P01", ErrorCode::GivenUp, "the server gave the transaction up for another's sake"},
    State{"55P03", ErrorCode::InUse, "others are writing; the server is busy"},
    State{"57014", ErrorCode::InUse, "it took too long; the server is busy"},
    State{"53300", ErrorCode::InUse, "the server has no free connection"},
    State{"25006", ErrorCode::ReadOnly, "the server takes no changes"},
    State{"42501", ErrorCode::ReadOnly, "this user has no right to it"},
    State{"53", ErrorCode::DiskProblem, "the server has no room"},
    State{"58", ErrorCode::DiskProblem, "the server's disk fails"},
    State{"XX001", ErrorCode::Unreadable, "the server found damaged data"},
    State{"XX002", ErrorCode::Unreadable, "the server found a damaged index"},
    State{"23", ErrorCode::InvalidInput, "constraint failed"},
    State{"22", ErrorCode::InvalidInput, "a value does not fit its column"},
    State{"42804", ErrorCode::InvalidInput, "a value does not fit its column"},
    State{"28", ErrorCode::ReadOnly, "the server does not let this user in"},
    State{"3D000", ErrorCode::NotFound, "the server has no such database"},
    State{"42P01", ErrorCode::NotAShop, "the database holds no shop"},
};

const State* meaningOf(std::string_view state) {
    const State* best = nullptr;
    for (const auto& one : kStates) {
        if (state.starts_with(one.begins) && (best == nullptr || one.begins.size() > best->begins.size()))
            best = &one;
    }
    return best;
}

/// The rule that was broken, where the server names one of ours: a constraint, a column, or a trigger's
/// sentence.
std::string brokenServerRule(std::string_view message) {
    constexpr std::string_view kError = "ERROR:  ";
    if (message.starts_with(kError))
        message.remove_prefix(kError.size());
    message = message.substr(0, message.find('\n'));
    if (message.starts_with("rule: ")) {
        const auto sentence = message.substr(6);
        const bool ours = std::ranges::all_of(
            sentence, [](char c) { return (c >= 'a' && c <= 'z') || c == ' ' || c == ','; });
        return ours ? std::string(sentence) : std::string();
    }
    for (const std::string_view before : {"constraint \"", "in column \""}) {
        const auto at = message.rfind(before);
        if (at == std::string_view::npos)
            continue;
        std::string_view name = message.substr(at + before.size());
        name = name.substr(0, name.find('"'));
        const bool plain = std::ranges::all_of(
            name, [](char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_'; });
        return plain ? std::string(name) : std::string();
    }
    return {};
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
    // Qt's driver for PostgreSQL names itself in front of its own words, and gives the SQLSTATE as the code.
    if (error.driverText().startsWith(QLatin1String("QPSQL")))
        return stateError(error.nativeErrorCode().toStdString(), error.databaseText().toStdString(), what);
    bool isNumber = false;
    const int code = error.nativeErrorCode().toInt(&isNumber);
    QString text = error.databaseText();
    // Qt puts its own words before the database's.
    if (const auto blank = text.indexOf(QLatin1String(" Unable")); blank > 0)
        text.truncate(blank);
    return sqlError(isNumber ? code : SQLITE_ERROR, text.toStdString(), what);
}

core::Error stateError(std::string_view state, std::string_view message, std::string_view what) {
    std::string detail(what);
    if (state.empty())
        return offlineError(detail + ": the connection to the server was lost");
    const State* meaning = meaningOf(state);
    detail += ": ";
    detail += meaning == nullptr ? "the server refused" : meaning->words;
    detail += " (SQLSTATE " + std::string(state) + ")";
    if (state.starts_with("23")) {
        if (const auto rule = brokenServerRule(message); !rule.empty())
            detail += ", " + rule;
    }
    return {meaning == nullptr ? ErrorCode::Internal : meaning->code, std::move(detail)};
}

bool isWorthRepeating(const core::Error& error) {
    return error.code == ErrorCode::GivenUp;
}

} // namespace milehold::storage
