// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/labels.h"
#include "storage/exchange/cells.h"
#include "storage/exchange/sheet.h"
#include "storage/records/record_table.h"

#include <limits>

/// Columns for the members of records, by the type of the member.
namespace milehold::storage::sheet {

template <class Field> struct CellCodec;

template <> struct CellCodec<std::string> {
    static std::string write(const std::string& field, const SheetContext&) { return guarded(field); }
    static std::optional<std::string> read(std::string& field, std::string_view cell, const SheetContext&) {
        field = unguarded(cell);
        return std::nullopt;
    }
};

template <> struct CellCodec<std::vector<std::string>> {
    static std::string write(const std::vector<std::string>& field, const SheetContext&) {
        return guarded(joinedList(field, ';'));
    }
    static std::optional<std::string> read(std::vector<std::string>& field, std::string_view cell,
                                           const SheetContext&) {
        auto entries = splitList(unguarded(cell), ';');
        if (!entries)
            return "a list with ; between its entries, quotes closed";
        field = std::move(*entries);
        return std::nullopt;
    }
};

template <> struct CellCodec<bool> {
    static std::string write(bool field, const SheetContext&) { return field ? "yes" : "no"; }
    static std::optional<std::string> read(bool& field, std::string_view cell, const SheetContext&) {
        const auto yes = yesFromCell(cell);
        if (!yes)
            return "yes or no";
        field = *yes;
        return std::nullopt;
    }
};

template <std::integral Number>
requires(!std::same_as<Number, bool>) struct CellCodec<Number> {
    static std::string write(Number field, const SheetContext&) { return std::to_string(field); }
    static std::optional<std::string> read(Number& field, std::string_view cell, const SheetContext&) {
        const auto number = wholeFromCell(cell);
        if (!number || !std::in_range<Number>(*number))
            return "a whole number";
        field = static_cast<Number>(*number);
        return std::nullopt;
    }
};

template <class Enum>
requires std::is_enum_v<Enum>
struct CellCodec<Enum> {
    static std::string write(Enum field, const SheetContext&) { return std::string(core::toCode(field)); }
    static std::optional<std::string> read(Enum& field, std::string_view cell, const SheetContext&) {
        const auto known = core::fromCode<Enum>(cell);
        if (known) {
            field = *known;
            return std::nullopt;
        }
        std::string all;
        for (const auto& label : core::labelsOf<Enum>())
            all += (all.empty() ? "one of " : ", ") + std::string(label.code);
        return all;
    }
};

template <> struct CellCodec<core::Date> {
    static std::string write(const core::Date& field, const SheetContext&) { return core::toIso(field); }
    static std::optional<std::string> read(core::Date& field, std::string_view cell, const SheetContext&) {
        const auto date = core::dateFromIso(cell);
        if (!date)
            return "a date as 2031-04-09";
        field = *date;
        return std::nullopt;
    }
};

template <> struct CellCodec<core::Distance> {
    static std::string write(const core::Distance& field, const SheetContext& context) {
        return distanceCell(field, context.settings.unit);
    }
    static std::optional<std::string> read(core::Distance& field, std::string_view cell,
                                           const SheetContext& context) {
        const auto distance = distanceFromCell(cell, context.settings.unit);
        if (!distance)
            return "a whole number, bare or with mi, km or m after a blank";
        field = *distance;
        return std::nullopt;
    }
};

template <> struct CellCodec<core::Money> {
    static std::string write(const core::Money& field, const SheetContext& context) {
        return core::toDecimal(field, core::minorDigits(context.settings.currency));
    }
    static std::optional<std::string> read(core::Money& field, std::string_view cell,
                                           const SheetContext& context) {
        const auto money = core::moneyFromDecimal(cell, core::minorDigits(context.settings.currency));
        if (!money)
            return "an amount as 1234.50, without a currency or grouping";
        field = *money;
        return std::nullopt;
    }
};

template <> struct CellCodec<core::Hours> {
    static std::string write(const core::Hours& field, const SheetContext&) {
        return core::toDecimal({field.hundredths}, 2);
    }
    static std::optional<std::string> read(core::Hours& field, std::string_view cell, const SheetContext&) {
        const auto hours = core::moneyFromDecimal(cell, 2);
        if (!hours || !std::in_range<std::int32_t>(hours->minor))
            return "hours as 8.45";
        field.hundredths = static_cast<std::int32_t>(hours->minor);
        return std::nullopt;
    }
};

template <class Tag> struct CellCodec<core::Id<Tag>> {
    static std::string write(const core::Id<Tag>& field, const SheetContext&) {
        return core::toString(field.uuid);
    }
    static std::optional<std::string> read(core::Id<Tag>& field, std::string_view cell, const SheetContext&) {
        const auto uuid = core::uuidFromString(cell);
        if (!uuid || uuid->isNull())
            return "a key as an export writes it";
        field.uuid = *uuid;
        return std::nullopt;
    }
};

template <class Field> struct CellCodec<std::optional<Field>> {
    static std::string write(const std::optional<Field>& field, const SheetContext& context) {
        return field ? CellCodec<Field>::write(*field, context) : std::string();
    }
    static std::optional<std::string> read(std::optional<Field>& field, std::string_view cell,
                                           const SheetContext& context) {
        return CellCodec<Field>::read(field.emplace(), cell, context);
    }
};

template <class Field> constexpr CellKind kKindOf = CellKind::Text;
template <std::integral Number>
requires(!std::same_as<Number, bool>) constexpr CellKind kKindOf<Number> = CellKind::Number;
template <> inline constexpr CellKind kKindOf<core::Distance> = CellKind::Number;
template <> inline constexpr CellKind kKindOf<core::Money> = CellKind::Number;
template <> inline constexpr CellKind kKindOf<core::Hours> = CellKind::Number;
template <> inline constexpr CellKind kKindOf<core::Date> = CellKind::Date;
template <class Field> constexpr CellKind kKindOf<std::optional<Field>> = kKindOf<Field>;

/// `member<JobLine, &JobLine::job, &core::Job::oilGrade>("oil_grade")`.
template <class Line, auto... Path> SheetColumn<Line> member(std::string_view name) {
    return {name,
            [](const Line& line, const SheetContext& context) {
                const auto& field = detail::memberOf<const Line, Path...>(line);
                return CellCodec<std::remove_cvref_t<decltype(field)>>::write(field, context);
            },
            [](Line& line, std::string_view cell, const SheetContext& context) {
                auto& field = detail::memberOf<Line, Path...>(line);
                return CellCodec<std::remove_cvref_t<decltype(field)>>::read(field, cell, context);
            },
            false,
            false,
            kKindOf<std::remove_cvref_t<decltype(detail::memberOf<Line, Path...>(std::declval<Line&>()))>>};
}

template <class Line, auto... Path> SheetColumn<Line> personalMember(std::string_view name) {
    auto made = member<Line, Path...>(name);
    made.personal = true;
    return made;
}

template <class Line, auto... Path> SheetColumn<Line> requiredMember(std::string_view name) {
    auto made = member<Line, Path...>(name);
    made.required = true;
    return made;
}

/// The name of a record by which a file may call it: its own where no other bears it, else its key.
template <class Record, class Name>
std::string nameOrKey(const std::vector<Record>& records, const core::Uuid& id, Name name) {
    const Record* found = nullptr;
    for (const auto& record : records)
        if (record.id.uuid == id)
            found = &record;
    if (found == nullptr)
        return core::toString(id);
    std::size_t same = 0;
    for (const auto& record : records)
        same += name(record) == name(*found) ? 1U : 0U;
    return same == 1 ? guarded(name(*found)) : core::toString(id);
}

/// The record that a cell names so; null when none or several do.
template <class Record, class Name>
const Record* byNameOrKey(const std::vector<Record>& records, std::string_view cell, Name name) {
    const std::string wanted = unguarded(cell);
    const Record* found = nullptr;
    for (const auto& record : records) {
        if (core::toString(record.id.uuid) == cell)
            return &record;
        if (name(record) != wanted)
            continue;
        if (found != nullptr)
            return nullptr;
        found = &record;
    }
    return found;
}

} // namespace milehold::storage::sheet
