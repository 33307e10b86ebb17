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

Statement::Statement(Session& session, std::string_view sql, std::string_view what)
    : session_(session), what_(what) {
    auto leased = session.lease(sql, what);
    if (!leased) {
        problem_ = leased.error();
        return;
    }
    prepared_ = std::move(*leased);
    bound_.assign(prepared_->names().size(), false);
}

Statement::~Statement() {
    if (prepared_ != nullptr)
        session_.giveBack(*prepared_);
}

std::optional<std::size_t> Statement::placeOf(std::string_view placeholder) {
    if (prepared_ == nullptr)
        return std::nullopt;
    const auto& names = prepared_->names();
    std::size_t place = likely_;
    if (place >= names.size() || names[place] != placeholder)
        place = static_cast<std::size_t>(std::ranges::find(names, placeholder) - names.begin());
    assert(place < names.size() && "no such placeholder");
    if (place == names.size()) {
        problem_ =
            core::Error{core::ErrorCode::Internal, what_ + ": no placeholder " + std::string(placeholder)};
        return std::nullopt;
    }
    assert(!bound_[place] && "bound twice");
    bound_[place] = true;
    likely_ = place + 1;
    return place;
}

Statement& Statement::bind(std::string_view placeholder, const Value& value) {
    if (const auto* text = std::get_if<std::string>(&value))
        return bindText(placeholder, *text);
    if (const auto* number = std::get_if<std::int64_t>(&value))
        return bindInt(placeholder, *number);
    if (const auto place = placeOf(placeholder))
        prepared_->bindNull(*place);
    return *this;
}

Statement& Statement::bindText(std::string_view placeholder, std::string_view text) {
    const auto place = placeOf(placeholder);
    if (!place)
        return *this;
    if (!isStorableText(text)) {
        problem_ =
            core::Error{core::ErrorCode::InvalidInput,
                        what_ + ": " + std::string(placeholder.substr(1)) + " is not valid UTF-8 text"};
        return *this;
    }
    prepared_->bindText(*place, text);
    return *this;
}

Statement& Statement::bindInt(std::string_view placeholder, std::int64_t number) {
    if (const auto place = placeOf(placeholder))
        prepared_->bindInteger(*place, number);
    return *this;
}

Statement& Statement::bindId(std::string_view placeholder, const core::Uuid& id) {
    return id.isNull() ? bind(placeholder, Value()) : bindText(placeholder, core::toString(id));
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
    if (auto ran = prepared_->run(what_); !ran)
        return failed(std::move(ran.error()));
    return {};
}

core::Result<bool> Statement::next() {
    auto more = prepared_->next(what_);
    if (!more)
        return core::failureOf(failed(std::move(more.error())));
    return more;
}

int Statement::rowsChanged() const {
    return prepared_->rowsChanged();
}

void Statement::again() {
    if (prepared_ == nullptr)
        return;
    prepared_->finish();
    bound_.assign(prepared_->names().size(), false);
    likely_ = 0;
}

bool Statement::isNull(int column) const {
    return prepared_->isNull(column);
}

Value Statement::value(int column) const {
    Value value = prepared_->value(column);
    starve();
    return value;
}

std::int64_t Statement::integer(int column) const {
    return prepared_->integer(column);
}

std::string Statement::text(int column) const {
    std::string text = prepared_->text(column);
    starve();
    return text;
}

void Statement::starve() const {
    // Without memory for a text a row would read as if it were blank: nothing is saved on that.
    if (prepared_->isStarved() && session_.unit() != nullptr)
        session_.unit()->fail();
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
