// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/shelf/shelf_record.h"

#include "core/shop/validation.h"
#include "ui/widgets/text.h"

#include <QCoreApplication>

#include <algorithm>

namespace milehold::ui {
namespace {

QString say(const char* text) {
    return QCoreApplication::translate("ShelfRecord", text);
}

template <class... Ways> struct Overloaded : Ways... { using Ways::operator()...; };

template <class Record>
std::optional<ShelfRecord> findIn(const std::vector<Record>& records, const core::Uuid& id) {
    const auto found =
        std::find_if(records.begin(), records.end(), [&](const Record& r) { return r.id.uuid == id; });
    if (found == records.end())
        return std::nullopt;
    return ShelfRecord(*found);
}

} // namespace

core::Uuid idOf(const ShelfRecord& record) {
    return std::visit(Overloaded{[](const core::ShopSettings&) { return core::Uuid{}; },
                                 [](const auto& row) { return row.id.uuid; }},
                      record);
}

void setId(ShelfRecord& record, const core::Uuid& id) {
    std::visit(Overloaded{[](core::ShopSettings&) {}, [&](auto& row) { row.id.uuid = id; }}, record);
}

std::int64_t revisionOf(const ShelfRecord& record) {
    return std::visit([](const auto& row) { return row.revision; }, record);
}

void setRevision(ShelfRecord& record, std::int64_t revision) {
    std::visit([revision](auto& row) { row.revision = revision; }, record);
}

ShelfSection sectionOf(const ShelfRecord& record) {
    return std::visit(Overloaded{[](const core::EngineFamily&) { return ShelfSection::Engines; },
                                 [](const core::RepairPath&) { return ShelfSection::Paths; },
                                 [](const core::PartNumber&) { return ShelfSection::Parts; },
                                 [](const core::Calibration&) { return ShelfSection::Calibrations; },
                                 [](const core::ShelfNote&) { return ShelfSection::Notes; },
                                 [](const core::Staff&) { return ShelfSection::People; },
                                 [](const core::ShopSettings&) { return ShelfSection::Shop; }},
                      record);
}

QString nameOf(const ShelfRecord& record) {
    return std::visit(
        Overloaded{[](const core::PartNumber& part) { return partName(part); },
                   [](const core::Calibration& calibration) { return toText(calibration.code); },
                   [](const core::ShelfNote& note) { return toText(note.text).simplified(); },
                   [](const auto& row) { return toText(row.name); }},
        record);
}

QString kindOf(const ShelfRecord& record) {
    return std::visit(Overloaded{[](const core::EngineFamily&) { return say("engine family"); },
                                 [](const core::RepairPath&) { return say("repair path"); },
                                 [](const core::PartNumber&) { return say("part number"); },
                                 [](const core::Calibration&) { return say("calibration"); },
                                 [](const core::ShelfNote&) { return say("note"); },
                                 [](const core::Staff&) { return say("person"); },
                                 [](const core::ShopSettings&) { return say("shop"); }},
                      record);
}

core::Findings check(const ShelfRecord& record, const ShelfContents& contents) {
    return std::visit(
        Overloaded{[&](const core::RepairPath& row) { return core::validate(row, contents.shelf); },
                   [&](const core::PartNumber& row) { return core::validate(row, contents.shelf); },
                   [&](const core::Calibration& row) { return core::validate(row, contents.shelf); },
                   [](const auto& row) { return core::validate(row); }},
        record);
}

const core::Freshness* freshnessOf(const ShelfRecord& record) {
    return std::visit(Overloaded{[](const core::RepairPath& row) { return &row.freshness; },
                                 [](const core::PartNumber& row) { return &row.freshness; },
                                 [](const core::Calibration& row) { return &row.freshness; },
                                 [](const core::ShelfNote& row) { return &row.freshness; },
                                 [](const auto&) -> const core::Freshness* { return nullptr; }},
                      record);
}

core::Freshness* freshnessOf(ShelfRecord& record) {
    return const_cast<core::Freshness*>(freshnessOf(std::as_const(record))); // the record is not const
}

std::optional<ShelfRecord> storedRecord(const ShelfContents& contents, ShelfSection section,
                                        const core::Uuid& id) {
    switch (section) {
    case ShelfSection::Engines:
        return findIn(contents.shelf.families, id);
    case ShelfSection::Paths:
        return findIn(contents.shelf.paths, id);
    case ShelfSection::Parts:
        return findIn(contents.shelf.parts, id);
    case ShelfSection::Calibrations:
        return findIn(contents.shelf.calibrations, id);
    case ShelfSection::Notes:
        return findIn(contents.shelf.notes, id);
    case ShelfSection::People:
        return findIn(contents.staff, id);
    case ShelfSection::Shop:
        return ShelfRecord(contents.settings);
    case ShelfSection::WantsChecking:
        break;
    }
    return std::nullopt;
}

ShelfRecord newRecord(ShelfSection section, const ShelfContents& contents) {
    switch (section) {
    case ShelfSection::Engines:
        return core::EngineFamily{};
    case ShelfSection::Parts: {
        core::PartNumber part;
        part.component = core::Component::Phaser;
        return part;
    }
    case ShelfSection::Calibrations:
        return core::Calibration{};
    case ShelfSection::Notes:
        return core::ShelfNote{};
    case ShelfSection::People: {
        core::Staff person;
        person.technician = true;
        return person;
    }
    case ShelfSection::Shop:
        return contents.settings;
    case ShelfSection::Paths:
    case ShelfSection::WantsChecking:
        break;
    }
    return core::RepairPath{};
}

QString subjectName(const core::ShelfNote& note, const core::Shelf& shelf) {
    ShelfContents contents;
    contents.shelf = shelf;
    const ShelfSection section = note.subject == core::ShelfSubject::EngineFamily ? ShelfSection::Engines
                                 : note.subject == core::ShelfSubject::PartNumber ? ShelfSection::Parts
                                 : note.subject == core::ShelfSubject::Calibration
                                     ? ShelfSection::Calibrations
                                     : ShelfSection::Paths;
    const auto record = storedRecord(contents, section, note.subjectId);
    return record ? nameOf(*record) : QString();
}

QString titleOf(const ShelfRecord& record, const ShelfContents& contents) {
    const auto* note = std::get_if<core::ShelfNote>(&record);
    const QString name = note != nullptr ? subjectName(*note, contents.shelf) : nameOf(record);
    return name.isEmpty() ? say("New %1").arg(kindOf(record)) : name;
}

} // namespace milehold::ui
