// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quantity/date.h"
#include "core/quantity/distance.h"
#include "core/quantity/money.h"
#include "core/shop/engine.h"
#include "core/shop/id.h"
#include "core/shop/labels.h"
#include "storage/database/value.h"

#include <concepts>
#include <limits>
#include <optional>
#include <string>
#include <type_traits>

namespace milehold::storage {

/// How a field of a record stands in a column: `toValue` and its inverse, which is false for a value that the
/// field cannot take.
template <class Field> struct Codec;

template <> struct Codec<std::string> {
    static Value toValue(const std::string& field) { return textValue(field); }
    static bool fromValue(const Value& value, std::string& field) {
        const auto* text = std::get_if<std::string>(&value);
        if (text != nullptr)
            field = *text;
        return text != nullptr;
    }
};

template <std::integral Number> struct Codec<Number> {
    static Value toValue(Number field) { return intValue(static_cast<std::int64_t>(field)); }
    static bool fromValue(const Value& value, Number& field) {
        const auto* number = std::get_if<std::int64_t>(&value);
        if (number == nullptr ||
            !std::in_range<std::conditional_t<std::is_same_v<Number, bool>, std::uint8_t, Number>>(*number)) {
            return false;
        }
        field = static_cast<Number>(*number);
        return true;
    }
};

template <class Enum>
requires std::is_enum_v<Enum>
struct Codec<Enum> {
    static Value toValue(Enum field) { return textValue(std::string(core::toCode(field))); }
    static bool fromValue(const Value& value, Enum& field) {
        const auto* text = std::get_if<std::string>(&value);
        const auto found = text == nullptr ? std::nullopt : core::fromCode<Enum>(*text);
        if (found)
            field = *found;
        return found.has_value();
    }
};

template <> struct Codec<core::Date> {
    static Value toValue(const core::Date& field) { return textValue(core::toIso(field)); }
    static bool fromValue(const Value& value, core::Date& field) {
        const auto* text = std::get_if<std::string>(&value);
        const auto found = text == nullptr ? std::nullopt : core::dateFromIso(*text);
        if (found)
            field = *found;
        return found.has_value();
    }
};

template <> struct Codec<core::Distance> {
    static Value toValue(const core::Distance& field) { return intValue(field.metres()); }
    static bool fromValue(const Value& value, core::Distance& field) {
        const auto* number = std::get_if<std::int64_t>(&value);
        if (number != nullptr)
            field = core::Distance::fromMetres(*number);
        return number != nullptr;
    }
};

template <> struct Codec<core::Money> {
    static Value toValue(const core::Money& field) { return intValue(field.minor); }
    static bool fromValue(const Value& value, core::Money& field) {
        return Codec<std::int64_t>::fromValue(value, field.minor);
    }
};

template <> struct Codec<core::Hours> {
    static Value toValue(const core::Hours& field) { return intValue(field.hundredths); }
    static bool fromValue(const Value& value, core::Hours& field) {
        return Codec<std::int32_t>::fromValue(value, field.hundredths);
    }
};

template <> struct Codec<core::Position> {
    static Value toValue(const core::Position& field) { return textValue(core::toCode(field)); }
    static bool fromValue(const Value& value, core::Position& field) {
        const auto* text = std::get_if<std::string>(&value);
        const auto found = text == nullptr ? std::nullopt : core::positionFromCode(*text);
        if (found)
            field = *found;
        return found.has_value();
    }
};

template <> struct Codec<core::Uuid> {
    static Value toValue(const core::Uuid& field) { return textValue(core::toString(field)); }
    static bool fromValue(const Value& value, core::Uuid& field) {
        const auto* text = std::get_if<std::string>(&value);
        const auto found = text == nullptr ? std::nullopt : core::uuidFromString(*text);
        if (found)
            field = *found;
        return found.has_value();
    }
};

template <class Tag> struct Codec<core::Id<Tag>> {
    static Value toValue(const core::Id<Tag>& field) { return Codec<core::Uuid>::toValue(field.uuid); }
    static bool fromValue(const Value& value, core::Id<Tag>& field) {
        return Codec<core::Uuid>::fromValue(value, field.uuid);
    }
};

template <class Field> struct Codec<std::optional<Field>> {
    static Value toValue(const std::optional<Field>& field) {
        return field ? Codec<Field>::toValue(*field) : Value();
    }
    static bool fromValue(const Value& value, std::optional<Field>& field) {
        if (isNull(value)) {
            field.reset();
            return true;
        }
        return Codec<Field>::fromValue(value, field.emplace());
    }
};

template <class Field> Value encode(const Field& field) {
    return Codec<Field>::toValue(field);
}
template <class Field> bool decode(const Value& value, Field& field) {
    return Codec<Field>::fromValue(value, field);
}

} // namespace milehold::storage
