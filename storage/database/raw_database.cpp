// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/database/raw_database.h"

#include "storage/database/sql_error.h"
#include "storage/files/durable.h"

#include <QByteArray>
#include <QString>
#include <QUrl>

#include <sqlite3.h>

namespace milehold::storage {

namespace {

constexpr int kPagesAStep = 256;

tl::unexpected<core::Error> failed(sqlite3* handle, std::string_view what) {
    return tl::unexpected(sqlError(sqlite3_extended_errcode(handle), sqlite3_errmsg(handle), what));
}

core::Result<sqlite3*> openFile(const std::filesystem::path& file, const char* query, int flags) {
    const QByteArray path = QUrl::toPercentEncoding(QString::fromStdString(file.string()), "/");
    const QByteArray uri = "file:" + path + query;
    sqlite3* handle = nullptr;
    const int code =
        sqlite3_open_v2(uri.constData(), &handle, flags | SQLITE_OPEN_URI | SQLITE_OPEN_EXRESCODE, nullptr);
    if (code == SQLITE_OK)
        return handle;
    auto error = sqlError(code, "", "open a copy of the shop");
    sqlite3_close(handle);
    return tl::unexpected(std::move(error));
}

/// `text`, when given, stands for ?1.
core::Result<Value> askWith(sqlite3* handle, std::string_view sql, const std::string_view* text) {
    constexpr std::string_view kWhat = "check a copy of the shop";
    sqlite3_stmt* statement = nullptr;
    if (sqlite3_prepare_v2(handle, sql.data(), static_cast<int>(sql.size()), &statement, nullptr) !=
        SQLITE_OK) {
        return failed(handle, kWhat);
    }
    const std::unique_ptr<sqlite3_stmt, decltype(&sqlite3_finalize)> owned(statement, sqlite3_finalize);
    if (text != nullptr)
        sqlite3_bind_text(statement, 1, text->data(), static_cast<int>(text->size()), SQLITE_TRANSIENT);
    const int code = sqlite3_step(statement);
    if (code == SQLITE_DONE)
        return Value{};
    if (code != SQLITE_ROW)
        return failed(handle, kWhat);
    switch (sqlite3_column_type(statement, 0)) {
    case SQLITE_NULL:
        return Value{};
    case SQLITE_INTEGER:
        return intValue(sqlite3_column_int64(statement, 0));
    default: {
        const auto* found = reinterpret_cast<const char*>(sqlite3_column_text(statement, 0));
        if (found == nullptr) // no memory for the text
            return failed(handle, kWhat);
        return textValue(std::string(found, static_cast<std::size_t>(sqlite3_column_bytes(statement, 0))));
    }
    }
}

} // namespace

void RawDatabase::Close::operator()(sqlite3* handle) const {
    sqlite3_close(handle);
}

core::Result<RawDatabase> RawDatabase::openAlone(const std::filesystem::path& file) {
    auto handle = openFile(file, "?mode=ro&immutable=1", SQLITE_OPEN_READONLY);
    if (!handle)
        return core::failureOf(handle);
    sqlite3_db_config(*handle, SQLITE_DBCONFIG_DEFENSIVE, 1, nullptr);
    sqlite3_db_config(*handle, SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0, nullptr);
    sqlite3_db_config(*handle, SQLITE_DBCONFIG_ENABLE_VIEW, 0, nullptr);
    sqlite3_db_config(*handle, SQLITE_DBCONFIG_ENABLE_TRIGGER, 0, nullptr);
    // A check goes from tables to indexes and back; with little memory it reads every page again and again.
    sqlite3_exec(*handle, "PRAGMA cache_size = -65536", nullptr, nullptr, nullptr);
    return RawDatabase(*handle);
}

core::Result<RawDatabase> RawDatabase::create(const std::filesystem::path& file) {
    if (auto made = createFile(file, ""); !made)
        return core::failureOf(made);
    auto handle = openFile(file, "?mode=rw", SQLITE_OPEN_READWRITE);
    if (!handle)
        return core::failureOf(handle);
    return RawDatabase(*handle);
}

core::Result<Value> RawDatabase::ask(std::string_view sql) const {
    return askWith(handle_.get(), sql, nullptr);
}

core::Result<Value> RawDatabase::ask(std::string_view sql, std::string_view text) const {
    return askWith(handle_.get(), sql, &text);
}

core::Result<void> RawDatabase::fillFrom(sqlite3* source) {
    sqlite3_backup* copying = sqlite3_backup_init(handle_.get(), "main", source, "main");
    if (copying == nullptr)
        return failed(handle_.get(), "copy the shop");
    int code = SQLITE_OK;
    while (code == SQLITE_OK)
        code = sqlite3_backup_step(copying, kPagesAStep);
    const int finished = sqlite3_backup_finish(copying);
    if (code != SQLITE_DONE)
        return tl::unexpected(sqlError(code, "", "copy the shop"));
    if (finished != SQLITE_OK)
        return tl::unexpected(sqlError(finished, "", "copy the shop"));
    return {};
}

core::Result<void> RawDatabase::close() {
    const int code = sqlite3_close(handle_.release());
    if (code != SQLITE_OK)
        return tl::unexpected(sqlError(code, "", "close a copy of the shop"));
    return {};
}

} // namespace milehold::storage
