// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/database/prepared_sqlite.h"

#include "storage/database/sql_error.h"

#include <sqlite3.h>

namespace milehold::storage {

namespace {

class SqlitePrepared final : public Prepared {
public:
    SqlitePrepared(sqlite3* handle, sqlite3_stmt* statement) : handle_(handle), statement_(statement) {}
    ~SqlitePrepared() override { drop(); }

    /// False where a placeholder has no name.
    bool readNames() {
        const int count = sqlite3_bind_parameter_count(statement_);
        for (int i = 1; i <= count; ++i) {
            const char* const name = sqlite3_bind_parameter_name(statement_, i);
            if (name == nullptr)
                return false;
            names_.emplace_back(name);
        }
        return true;
    }

    void bindNull(std::size_t place) override { note(sqlite3_bind_null(statement_, parameter(place))); }
    void bindInteger(std::size_t place, std::int64_t number) override {
        note(sqlite3_bind_int64(statement_, parameter(place), number));
    }
    void bindText(std::size_t place, std::string_view text) override {
        // A null pointer would be bound as NULL.
        note(sqlite3_bind_text64(statement_, parameter(place), text.empty() ? "" : text.data(), text.size(),
                                 SQLITE_TRANSIENT, SQLITE_UTF8));
    }

    core::Result<void> run(std::string_view what) override {
        if (statement_ == nullptr)
            return dropped(what);
        sqlite3_reset(statement_);
        hasFirst_ = false;
        starved_ = false;
        if (bindCode_ != SQLITE_OK) {
            const int code = bindCode_;
            bindCode_ = SQLITE_OK;
            return tl::unexpected(sqlError(code, "", what));
        }
        const auto more = step(what);
        if (!more)
            return core::failureOf(more);
        hasFirst_ = *more;
        return {};
    }

    core::Result<bool> next(std::string_view what) override {
        if (statement_ == nullptr)
            return dropped(what);
        if (starved_)
            return tl::unexpected(sqlError(SQLITE_NOMEM, "", what));
        if (hasFirst_) {
            hasFirst_ = false;
            return true;
        }
        // After the last row SQLite would begin anew.
        return atEnd_ ? core::Result<bool>(false) : step(what);
    }

    int rowsChanged() const override { return sqlite3_changes(handle_); }

    void finish() override {
        if (statement_ != nullptr)
            sqlite3_reset(statement_);
        bindCode_ = SQLITE_OK;
        hasFirst_ = false;
        atEnd_ = true;
    }

    void drop() override {
        sqlite3_finalize(statement_); // of nullptr: nothing
        statement_ = nullptr;
    }

    bool isNull(int column) const override { return sqlite3_column_type(statement_, column) == SQLITE_NULL; }

    Value value(int column) const override {
        switch (sqlite3_column_type(statement_, column)) {
        case SQLITE_NULL:
            return {};
        case SQLITE_INTEGER:
            return intValue(sqlite3_column_int64(statement_, column));
        default:
            return textValue(text(column));
        }
    }

    std::int64_t integer(int column) const override { return sqlite3_column_int64(statement_, column); }

    std::string text(int column) const override {
        const auto* bytes = reinterpret_cast<const char*>(sqlite3_column_text(statement_, column));
        if (bytes == nullptr) {
            starved_ = starved_ || sqlite3_column_type(statement_, column) != SQLITE_NULL;
            return {};
        }
        return {bytes, static_cast<std::size_t>(sqlite3_column_bytes(statement_, column))};
    }

    bool isStarved() const override { return starved_; }

private:
    static int parameter(std::size_t place) { return static_cast<int>(place) + 1; }

    void note(int code) {
        if (bindCode_ == SQLITE_OK)
            bindCode_ = code;
    }

    static tl::unexpected<core::Error> dropped(std::string_view what) {
        return core::fail(core::ErrorCode::Internal,
                          std::string(what) + ": its connection was closed meanwhile");
    }

    core::Result<bool> step(std::string_view what) {
        atEnd_ = false;
        const int code = sqlite3_step(statement_);
        if (code == SQLITE_ROW)
            return true;
        atEnd_ = true;
        if (code == SQLITE_DONE)
            return false;
        auto error = sqlError(code, sqlite3_errmsg(handle_), what);
        sqlite3_reset(statement_);
        return tl::unexpected(std::move(error));
    }

    sqlite3* handle_;
    sqlite3_stmt* statement_;
    int bindCode_ = SQLITE_OK; ///< of the first value that could not be bound
    bool hasFirst_ = false;    ///< run() stands on a row that next() has not handed out
    bool atEnd_ = true;
    mutable bool starved_ = false;
};

} // namespace

core::Result<std::shared_ptr<Prepared>> prepareBySqlite(sqlite3* handle, std::string_view sql,
                                                        std::string_view what) {
    sqlite3_stmt* statement = nullptr;
    const int code = sqlite3_prepare_v3(handle, sql.data(), static_cast<int>(sql.size()),
                                        SQLITE_PREPARE_PERSISTENT, &statement, nullptr);
    if (code != SQLITE_OK)
        return tl::unexpected(sqlError(code, sqlite3_errmsg(handle), what));
    auto made = std::make_shared<SqlitePrepared>(handle, statement);
    if (!made->readNames())
        return core::fail(core::ErrorCode::Internal, std::string(what) + ": a placeholder without a name");
    return std::shared_ptr<Prepared>(std::move(made));
}

} // namespace milehold::storage
