// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"
#include "storage/database/value.h"

#include <QSqlDatabase>

#include <cstddef>
#include <cstdint>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace milehold::storage {

/// A prepared statement of either engine, kept by its Session and lent to one Statement at a time.
///
/// SQLite's is used by its own interface where the library is the one that Qt uses (sqliteHandle()): Qt Sql
/// turns each text into UTF-16 and back and describes every column anew at each run, which was over half of
/// what a save costs. Anything else goes through QSqlQuery.
class Prepared {
public:
    /// `what` says in a few words what it does, for error details. Errors: those of the database.
    static core::Result<std::shared_ptr<Prepared>> make(const QSqlDatabase& database, std::string_view sql,
                                                        std::string_view what);
    Prepared() = default;
    virtual ~Prepared() = default;
    Prepared(const Prepared&) = delete;
    Prepared& operator=(const Prepared&) = delete;

    /// The placeholders in the order in which they first appear, as `:name`.
    const std::vector<std::string>& names() const { return names_; }

    /// Binds the placeholder of this place. Errors come out of run() at the latest.
    virtual void bindNull(std::size_t place) = 0;
    virtual void bindInteger(std::size_t place, std::int64_t number) = 0;
    virtual void bindText(std::size_t place, std::string_view text) = 0;

    virtual core::Result<void> run(std::string_view what) = 0;
    /// False after the last row. A failed read is an error, never "no more rows".
    virtual core::Result<bool> next(std::string_view what) = 0;
    virtual int rowsChanged() const = 0;
    /// Ends reading: a statement that is read half holds its lock on the file.
    virtual void finish() = 0;
    /// The connection is about to be closed: from now on it holds nothing of it, and fails.
    virtual void drop() = 0;

    virtual bool isNull(int column) const = 0;
    virtual Value value(int column) const = 0;
    virtual std::int64_t integer(int column) const = 0;
    virtual std::string text(int column) const = 0;
    /// Whether a text of the current row could not be had for want of memory.
    virtual bool isStarved() const { return false; }

    bool leased = false;

protected:
    std::vector<std::string> names_;
};

} // namespace milehold::storage
