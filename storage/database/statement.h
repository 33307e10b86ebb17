// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quantity/date.h"
#include "core/result.h"
#include "core/shop/id.h"
#include "storage/database/prepared.h"
#include "storage/database/session.h"
#include "storage/database/value.h"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

class QVariant;

namespace milehold::storage {

/// One prepared statement in use. Every placeholder must be there and be bound exactly once (asserted).
///
/// `what` says in a few words what it does, for error details. Failures of preparing and binding come out of
/// run().
class Statement {
public:
    Statement(Session& session, std::string_view sql, std::string_view what);
    ~Statement();
    Statement(const Statement&) = delete;
    Statement& operator=(const Statement&) = delete;

    Statement& bind(std::string_view placeholder, const Value& value);
    Statement& bindText(std::string_view placeholder, std::string_view text);
    Statement& bindInt(std::string_view placeholder, std::int64_t number);
    Statement& bindId(std::string_view placeholder, const core::Uuid& id);

    /// Executes with what is bound. Errors: InvalidInput for text that is not storable, else the database's.
    /// Inside a unit of work a failure ends that unit; nothing more runs in it.
    core::Result<void> run();
    /// Steps to the next row; false after the last. A failed read is an error, never "no more rows".
    core::Result<bool> next();
    int rowsChanged() const;
    /// Makes ready for other values and another run().
    void again();

    bool isNull(int column) const;
    Value value(int column) const;
    std::int64_t integer(int column) const;
    std::string text(int column) const;
    /// A null id for NULL.
    core::Uuid id(int column) const;
    std::optional<core::Date> date(int column) const;

private:
    core::Result<void> failed(core::Error error);
    void starve() const;
    /// The place of a placeholder that is not bound yet.
    std::optional<std::size_t> placeOf(std::string_view placeholder);

    Session& session_;
    std::string what_;
    std::shared_ptr<Prepared> prepared_;
    std::optional<core::Error> problem_;
    std::vector<bool> bound_;
    std::size_t likely_ = 0; ///< where the next placeholder most likely is: they are bound in order
};

/// What Qt gives for a column.
Value fromVariant(const QVariant& variant);

/// Runs a statement without values or rows, e.g. `BEGIN IMMEDIATE`; not kept.
core::Result<void> runPlain(QSqlDatabase& database, std::string_view sql, std::string_view what);
/// The first column of the first row, e.g. of a PRAGMA; NULL when there is no row.
core::Result<Value> askPlain(QSqlDatabase& database, std::string_view sql, std::string_view what);

} // namespace milehold::storage
