// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/database/statement.h"

#include "storage/database/sql_error.h"
#include "storage/database/text.h"
#include "storage/database/unit_of_work.h"
#include "storage/offline.h"

#include <QSqlQuery>
#include <QVariant>

#include <algorithm>
#include <cassert>

namespace milehold::storage {

namespace {

Value fromVariant(const QVariant& variant) {
    if (variant.isNull())
        return {};
    switch (variant.userType()) {
    case QMetaType::LongLong:
    case QMetaType::Int:
    case QMetaType::ULongLong: // so Qt gives PostgreSQL's numbers of 64 bits that are not negative
    case QMetaType::UInt:
        return intValue(variant.toLongLong());
    default:
        break;
    }
    if (variant.userType() == QMetaType::Bool)
        return intValue(variant.toBool() ? 1 : 0); // what a comparison is on PostgreSQL
    return textValue(variant.toString().toStdString());
}

} // namespace

Statement::Statement(Session& session, std::string_view sql, std::string_view what)
    : session_(session), what_(what) {
    auto leased = session.lease(sql, what);
    if (!leased) {
        problem_ = leased.error();
        return;
    }
    prepared_ = std::move(*leased);
    bound_.assign(prepared_->names.size(), false);
}

Statement::~Statement() {
    if (prepared_ != nullptr)
        session_.giveBack(*prepared_);
}

Statement& Statement::bind(std::string_view placeholder, const Value& value) {
    if (prepared_ == nullptr)
        return *this;
    const auto found = std::ranges::find(prepared_->names, placeholder);
    assert(found != prepared_->names.end() && "no such placeholder");
    if (found == prepared_->names.end()) {
        problem_ =
            core::Error{core::ErrorCode::Internal, what_ + ": no placeholder " + std::string(placeholder)};
        return *this;
    }
    const auto index = static_cast<std::size_t>(found - prepared_->names.begin());
    assert(!bound_[index] && "bound twice");
    bound_[index] = true;
    QVariant bound;
    if (const auto* number = std::get_if<std::int64_t>(&value)) {
        bound = static_cast<qlonglong>(*number);
    } else if (const auto* text = std::get_if<std::string>(&value)) {
        if (!isStorableText(*text)) {
            problem_ =
                core::Error{core::ErrorCode::InvalidInput,
                            what_ + ": " + std::string(placeholder.substr(1)) + " is not valid UTF-8 text"};
        }
        // A null QString would be bound as NULL.
        bound = text->empty() ? QString(QLatin1String("")) : toQt(*text);
    } else {
        bound = QVariant(QMetaType::fromType<QString>());
    }
    prepared_->query.bindValue(prepared_->keys[index], bound);
    return *this;
}

Statement& Statement::bindText(std::string_view placeholder, std::string_view text) {
    return bind(placeholder, textValue(std::string(text)));
}

Statement& Statement::bindInt(std::string_view placeholder, std::int64_t number) {
    return bind(placeholder, intValue(number));
}

Statement& Statement::bindId(std::string_view placeholder, const core::Uuid& id) {
    return bind(placeholder, id.isNull() ? Value() : textValue(core::toString(id)));
}

core::Result<void> Statement::failed(core::Error error) {
    if (session_.unit() != nullptr)
        session_.unit()->fail();
    if (isOffline(error))
        session_.noteLost();
    return tl::unexpected(std::move(error));
}

core::Result<void> Statement::run() {
    session_.assertThread();
    if (session_.unit() != nullptr && session_.unit()->hasFailed()) {
        return core::fail(core::ErrorCode::Internal,
                          what_ + ": a statement after the unit of work had failed");
    }
    if (!problem_ && std::ranges::find(bound_, false) != bound_.end()) {
        assert(false && "a placeholder is not bound");
        problem_ = core::Error{core::ErrorCode::Internal, what_ + ": a placeholder is not bound"};
    }
    if (problem_)
        return failed(*problem_);
    if (!prepared_->query.exec())
        return failed(sqlError(prepared_->query.lastError(), what_));
    return {};
}

core::Result<bool> Statement::next() {
    if (prepared_->query.next())
        return true;
    if (prepared_->query.lastError().isValid()) {
        return core::failureOf(failed(sqlError(prepared_->query.lastError(), what_)));
    }
    return false;
}

int Statement::rowsChanged() const {
    return prepared_->query.numRowsAffected();
}

void Statement::again() {
    if (prepared_ == nullptr)
        return;
    prepared_->query.finish();
    bound_.assign(prepared_->names.size(), false);
}

bool Statement::isNull(int column) const {
    return prepared_->query.isNull(column);
}

Value Statement::value(int column) const {
    return fromVariant(prepared_->query.value(column));
}

std::int64_t Statement::integer(int column) const {
    return prepared_->query.value(column).toLongLong();
}

std::string Statement::text(int column) const {
    return prepared_->query.value(column).toString().toStdString();
}

core::Uuid Statement::id(int column) const {
    return core::uuidFromString(text(column)).value_or(core::Uuid{});
}

std::optional<core::Date> Statement::date(int column) const {
    return core::dateFromIso(text(column));
}

core::Result<void> runPlain(QSqlDatabase& database, std::string_view sql, std::string_view what) {
    QSqlQuery query(database);
    query.setForwardOnly(true);
    if (!query.exec(toQt(sql)))
        return tl::unexpected(sqlError(query.lastError(), what));
    return {};
}

core::Result<Value> askPlain(QSqlDatabase& database, std::string_view sql, std::string_view what) {
    QSqlQuery query(database);
    query.setForwardOnly(true);
    if (!query.exec(toQt(sql)))
        return tl::unexpected(sqlError(query.lastError(), what));
    if (query.next())
        return fromVariant(query.value(0));
    if (query.lastError().isValid())
        return tl::unexpected(sqlError(query.lastError(), what));
    return Value{};
}

} // namespace milehold::storage
