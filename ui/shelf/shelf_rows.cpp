// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/shelf/shelf_rows.h"

#include "core/shop/stale_facts.h"
#include "ui/shelf/choices.h"

#include <QCoreApplication>

#include <algorithm>

namespace milehold::ui {
namespace {

QString say(const char* text) {
    return QCoreApplication::translate("ShelfRows", text);
}

template <class... Ways> struct Overloaded : Ways... { using Ways::operator()...; };

ShelfCell statusCell(const Status& status) {
    return {status.word, status.word, status, {}, false, {}};
}
ShelfCell soft(const QString& text) {
    return {text, {}, {}, {}, true, text};
}
ShelfCell plain(const QString& text) {
    return {text, {}, {}, {}, false, text};
}

ShelfCell dateCell(const std::optional<core::Date>& date) {
    if (!date || !date->ok())
        return {};
    return {dateText(*date), toQDate(*date), {}, {}, true, {}};
}

QString rolesOf(const core::Staff& person) {
    QStringList roles;
    if (person.technician)
        roles << say("technician");
    if (person.advisor)
        roles << say("advisor");
    if (person.owner)
        roles << say("owner");
    return roles.join(QStringLiteral(", "));
}

QString shownName(const ShelfRecord& record) {
    const QString name = nameOf(record);
    return name.isEmpty() ? say("New %1").arg(kindOf(record)) : name;
}

std::vector<ShelfCell> cellsOf(const ShelfRecord& record, const ShelfContents& contents,
                               const Status& status) {
    const core::Shelf& shelf = contents.shelf;
    const QString name = shownName(record);
    return std::visit(
        Overloaded{[&](const core::EngineFamily& row) -> std::vector<ShelfCell> {
                       ShelfCell badge;
                       badge.badge = EngineBadge{row.banks, row.positions, {}};
                       badge.text = QString::number(row.positions.size());
                       badge.sort = static_cast<int>(row.positions.size());
                       int paths = 0;
                       for (const core::RepairPath& path : shelf.paths)
                           paths += std::any_of(path.applies.begin(), path.applies.end(),
                                                [&](const core::PathApplies& entry) {
                                                    return entry.family == row.id;
                                                })
                                        ? 1
                                        : 0;
                       ShelfCell count = soft(QString::number(paths));
                       count.sort = paths;
                       return {badge, plain(name), count, statusCell(status)};
                   },
                   [&](const core::RepairPath& row) -> std::vector<ShelfCell> {
                       ShelfCell price = plain(moneyText(row.price, toText(contents.settings.currency)));
                       price.sort = static_cast<qlonglong>(row.price.minor);
                       return {plain(name), price, statusCell(status)};
                   },
                   [&](const core::PartNumber& row) -> std::vector<ShelfCell> {
                       ShelfCell number = plain(name);
                       number.soft = row.supersededBy.has_value();
                       return {number, soft(labelText(row.component)), statusCell(status)};
                   },
                   [&](const core::Calibration& row) -> std::vector<ShelfCell> {
                       const core::EngineFamily* family = row.family ? shelf.find(*row.family) : nullptr;
                       return {plain(name),
                               soft(family != nullptr ? toText(family->name) : say("any engine")),
                               statusCell(status)};
                   },
                   [&](const core::ShelfNote& row) -> std::vector<ShelfCell> {
                       return {soft(subjectName(row, shelf)), plain(name), statusCell(status)};
                   },
                   [&](const core::Staff& row) -> std::vector<ShelfCell> {
                       return {plain(name), soft(rolesOf(row)), statusCell(status)};
                   },
                   [&](const core::ShopSettings&) -> std::vector<ShelfCell> { return {plain(name)}; }},
        record);
}

template <class Record>
void addRows(ShelfTable& table, ShelfSection section, const std::vector<Record>& records,
             const ShelfContents& contents, const ShelfDrafts& drafts) {
    const Status unsaved{StatusShape::HalfDisc, StatusTone::Amber, say("not saved")};
    for (const auto& [id, draft] : drafts)
        if (sectionOf(draft.typed) == section && !storedRecord(contents, section, id))
            table.rows.push_back({id, section, cellsOf(draft.typed, contents, unsaved)});
    for (const Record& stored : records) {
        const auto draft = drafts.find(stored.id.uuid);
        const ShelfRecord record = draft != drafts.end() ? draft->second.typed : ShelfRecord(stored);
        const Status status = draft != drafts.end() ? unsaved : statusOf(record, contents);
        table.rows.push_back({stored.id.uuid, section, cellsOf(record, contents, status)});
    }
}

QString shortKind(core::ShelfSubject subject) {
    switch (subject) {
    case core::ShelfSubject::EngineFamily:
        return say("engine");
    case core::ShelfSubject::PartNumber:
        return say("part");
    case core::ShelfSubject::Calibration:
        return say("calibration");
    case core::ShelfSubject::RepairPath:
        break;
    }
    return say("path");
}

ShelfTable staleTable(const ShelfContents& contents) {
    ShelfTable table{{say("What wants checking"), say("It is a"), say("Since")}, 0, {0, 96, 92}, {}};
    for (const core::StaleFact& fact : core::wantsChecking(contents.shelf, contents.today)) {
        const ShelfSection opens = fact.note                                        ? ShelfSection::Notes
                                   : fact.subject == core::ShelfSubject::PartNumber ? ShelfSection::Parts
                                   : fact.subject == core::ShelfSubject::Calibration
                                       ? ShelfSection::Calibrations
                                       : ShelfSection::Paths;
        const QString kind = fact.note ? say("note") : shortKind(fact.subject);
        table.rows.push_back(
            {fact.id,
             opens,
             {plain(toText(fact.name).simplified()), soft(kind), dateCell(fact.freshness.checkAgainBy)}});
    }
    return table;
}

} // namespace

Status statusOf(const ShelfRecord& record, const ShelfContents& contents) {
    const core::Freshness* freshness = freshnessOf(record);
    const Status wantsIt{StatusShape::Triangle, StatusTone::Amber, say("check")};
    const bool stale = freshness != nullptr && core::isStale(*freshness, contents.today);
    return std::visit(
        Overloaded{[&](const core::PartNumber& row) -> Status {
                       if (core::newestOf(contents.shelf, row.id) != row.id)
                           return {StatusShape::Ring, StatusTone::Soft, say("superseded")};
                       return stale ? wantsIt : Status{StatusShape::Disc, StatusTone::Accent, say("current")};
                   },
                   [&](const core::Calibration& row) -> Status {
                       if (core::newestOf(contents.shelf, row.id) != row.id)
                           return {StatusShape::Ring, StatusTone::Soft, say("superseded")};
                       return stale ? wantsIt : Status{StatusShape::Disc, StatusTone::Accent, say("current")};
                   },
                   [&](const core::RepairPath& row) -> Status {
                       if (!row.active)
                           return {StatusShape::Ring, StatusTone::Soft, say("not offered")};
                       return stale ? wantsIt : Status{StatusShape::Disc, StatusTone::Accent, say("offered")};
                   },
                   [&](const core::ShelfNote&) -> Status {
                       return stale ? wantsIt : Status{StatusShape::Disc, StatusTone::Soft, say("noted")};
                   },
                   [&](const core::Staff& row) -> Status {
                       if (!row.active)
                           return {StatusShape::Ring, StatusTone::Soft, say("has left")};
                       return {StatusShape::Disc, StatusTone::Accent, say("here")};
                   },
                   [&](const auto&) -> Status {
                       return {StatusShape::Disc, StatusTone::Accent, say("in use")};
                   }},
        record);
}

ShelfTable shelfTable(ShelfSection section, const ShelfContents& contents, const ShelfDrafts& drafts) {
    ShelfTable table;
    switch (section) {
    case ShelfSection::WantsChecking:
        return staleTable(contents);
    case ShelfSection::Engines:
        table = {{say("Plan"), say("Engine family"), say("Paths"), say("State")}, 1, {72, 0, 64, 92}, {}};
        addRows(table, section, contents.shelf.families, contents, drafts);
        break;
    case ShelfSection::Paths:
        table = {{say("Repair path"), say("Price"), say("State")}, 0, {0, 88, 100}, {}};
        addRows(table, section, contents.shelf.paths, contents, drafts);
        break;
    case ShelfSection::Parts:
        table = {{say("Part number"), say("Component"), say("State")}, 0, {0, 124, 116}, {}};
        addRows(table, section, contents.shelf.parts, contents, drafts);
        break;
    case ShelfSection::Calibrations:
        table = {{say("Calibration"), say("Engine family"), say("State")}, 0, {0, 132, 116}, {}};
        addRows(table, section, contents.shelf.calibrations, contents, drafts);
        break;
    case ShelfSection::Notes:
        table = {{say("About"), say("Note"), say("State")}, 1, {120, 0, 96}, {}};
        addRows(table, section, contents.shelf.notes, contents, drafts);
        break;
    case ShelfSection::People:
        table = {{say("Name"), say("Does"), say("State")}, 0, {0, 132, 96}, {}};
        addRows(table, section, contents.staff, contents, drafts);
        break;
    case ShelfSection::Shop:
        break;
    }
    return table;
}

int shelfCount(ShelfSection section, const ShelfContents& contents) {
    const auto count = [](const auto& list) { return static_cast<int>(list.size()); };
    switch (section) {
    case ShelfSection::WantsChecking:
        return count(core::wantsChecking(contents.shelf, contents.today));
    case ShelfSection::Engines:
        return count(contents.shelf.families);
    case ShelfSection::Paths:
        return count(contents.shelf.paths);
    case ShelfSection::Parts:
        return count(contents.shelf.parts);
    case ShelfSection::Calibrations:
        return count(contents.shelf.calibrations);
    case ShelfSection::Notes:
        return count(contents.shelf.notes);
    case ShelfSection::People:
        return count(contents.staff);
    case ShelfSection::Shop:
        break;
    }
    return 0;
}

QString sectionName(ShelfSection section) {
    switch (section) {
    case ShelfSection::WantsChecking:
        return say("Wants checking");
    case ShelfSection::Engines:
        return say("Engines");
    case ShelfSection::Paths:
        return say("Repair paths");
    case ShelfSection::Parts:
        return say("Part numbers");
    case ShelfSection::Calibrations:
        return say("Calibrations");
    case ShelfSection::Notes:
        return say("Notes");
    case ShelfSection::People:
        return say("People");
    case ShelfSection::Shop:
        break;
    }
    return say("This shop");
}

QString sectionIcon(ShelfSection section) {
    switch (section) {
    case ShelfSection::WantsChecking:
        return QStringLiteral("stale");
    case ShelfSection::Engines:
        return QStringLiteral("engine");
    case ShelfSection::Paths:
        return QStringLiteral("path");
    case ShelfSection::Parts:
        return QStringLiteral("part");
    case ShelfSection::Calibrations:
        return QStringLiteral("chip");
    case ShelfSection::Notes:
        return QStringLiteral("note");
    case ShelfSection::People:
        return QStringLiteral("people");
    case ShelfSection::Shop:
        break;
    }
    return QStringLiteral("settings");
}

QString sectionEmptyText(ShelfSection section) {
    switch (section) {
    case ShelfSection::WantsChecking:
        return say("Nothing wants checking. Facts come back here on the day after their \"check again by\".");
    case ShelfSection::Engines:
        return say("No engine family yet. Add the engines that you repair, then the paths.");
    case ShelfSection::Paths:
        return say(
            "No repair path yet. Add the engines first, then the ways in which you repair them; jobs and "
            "quotes start here.");
    case ShelfSection::Parts:
        return say("No part number yet. Add what you fit, one entry a revision.");
    case ShelfSection::Calibrations:
        return say("No calibration yet. Add the software levels that you meet.");
    case ShelfSection::Notes:
        return say("No note yet. Write down what the next technician should know.");
    case ShelfSection::People:
        return say("Nobody yet. Add the people who repair, advise and decide.");
    case ShelfSection::Shop:
        break;
    }
    return {};
}

QString sectionAddText(ShelfSection section) {
    switch (section) {
    case ShelfSection::Engines:
        return say("Add an engine family");
    case ShelfSection::Paths:
        return say("Add a repair path");
    case ShelfSection::Parts:
        return say("Add a part number");
    case ShelfSection::Calibrations:
        return say("Add a calibration");
    case ShelfSection::Notes:
        return say("Add a note");
    case ShelfSection::People:
        return say("Add a person");
    case ShelfSection::WantsChecking:
    case ShelfSection::Shop:
        break;
    }
    return {};
}

} // namespace milehold::ui
