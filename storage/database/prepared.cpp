// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/database/prepared.h"

#include "storage/database/dialect.h"
#include "storage/database/prepared_sqlite.h"
#include "storage/database/sql_error.h"
#include "storage/database/sqlite_handle.h"
#include "storage/database/statement.h"
#include "storage/database/text.h"

#include <QSqlQuery>
#include <QVariant>

#include <algorithm>

namespace milehold::storage {

namespace {

/// `:name` outside quotes and comments; our own SQL only, so nothing fancier is needed.
std::vector<std::string> placeholdersOf(std::string_view sql) {
    std::vector<std::string> names;
    const auto isWord = [](char c) {
        return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_';
    };
    for (std::size_t i = 0; i < sql.size(); ++i) {
        if (sql[i] == '\'') {
            i = sql.find('\'', i + 1);
            if (i == std::string_view::npos)
                break;
        } else if (sql[i] == ':' && i + 1 < sql.size() && isWord(sql[i + 1])) {
            std::size_t end = i + 1;
            while (end < sql.size() && isWord(sql[end]))
                ++end;
            std::string name(sql.substr(i, end - i));
            if (std::ranges::find(names, name) == names.end())
                names.push_back(std::move(name));
            i = end - 1;
        }
    }
    return names;
}

class QtPrepared final : public Prepared {
public:
    explicit QtPrepared(const QSqlDatabase& database) : query_(database) {
        // Reading on while another query runs loses the rest of the answer in PostgreSQL's forward-only mode.
        query_.setForwardOnly(engineOf(database) == Engine::Sqlite);
    }

    core::Result<void> prepare(std::string_view sql, std::string_view what) {
        if (!query_.prepare(toQt(sql)))
            return tl::unexpected(sqlError(query_.lastError(), what));
        names_ = placeholdersOf(sql);
        for (const auto& name : names_)
            keys_.push_back(toQt(name));
        return {};
    }

    void bindNull(std::size_t place) override {
        query_.bindValue(keys_[place], QVariant(QMetaType::fromType<QString>()));
    }
    void bindInteger(std::size_t place, std::int64_t number) override {
        query_.bindValue(keys_[place], static_cast<qlonglong>(number));
    }
    void bindText(std::size_t place, std::string_view text) override {
        // A null QString would be bound as NULL.
        query_.bindValue(keys_[place], text.empty() ? QString(QLatin1String("")) : toQt(text));
    }

    core::Result<void> run(std::string_view what) override {
        if (!query_.exec())
            return tl::unexpected(sqlError(query_.lastError(), what));
        return {};
    }
    core::Result<bool> next(std::string_view what) override {
        if (query_.next())
            return true;
        if (query_.lastError().isValid())
            return tl::unexpected(sqlError(query_.lastError(), what));
        return false;
    }
    int rowsChanged() const override { return query_.numRowsAffected(); }
    void finish() override { query_.finish(); }
    void drop() override {} // Qt's connection ends its queries when it closes

    bool isNull(int column) const override { return query_.isNull(column); }
    Value value(int column) const override { return fromVariant(query_.value(column)); }
    std::int64_t integer(int column) const override { return query_.value(column).toLongLong(); }
    std::string text(int column) const override { return query_.value(column).toString().toStdString(); }

private:
    QSqlQuery query_;
    std::vector<QString> keys_; ///< the names as Qt wants them
};

} // namespace

core::Result<std::shared_ptr<Prepared>> Prepared::make(const QSqlDatabase& database, std::string_view sql,
                                                       std::string_view what) {
    if (engineOf(database) == Engine::Sqlite) {
        if (sqlite3* const handle = sqliteHandle(database))
            return prepareBySqlite(handle, sql, what);
    }
    auto made = std::make_shared<QtPrepared>(database);
    if (auto prepared = made->prepare(sql, what); !prepared)
        return core::failureOf(prepared);
    return std::shared_ptr<Prepared>(std::move(made));
}

} // namespace milehold::storage
