// SPDX-License-Identifier: GPL-3.0-or-later
// The rules of parts, calibrations, repair paths and notes.
#include "core/shop/finding_list.h"
#include "core/shop/validation.h"

#include <algorithm>
#include <string>

namespace milehold::core {

namespace {

/// True when following the successors of `part` (as it is about to be saved) leads back to it.
bool isInCycle(const PartNumber& part, const Shelf& shelf) {
    auto next = part.supersededBy;
    for (std::size_t step = 0; next && step <= shelf.parts.size(); ++step) {
        if (*next == part.id)
            return true;
        const PartNumber* successor = shelf.find(*next);
        next = successor == nullptr ? std::nullopt : successor->supersededBy;
    }
    return next.has_value();
}

bool isInCycle(const Calibration& calibration, const Shelf& shelf) {
    auto next = calibration.supersedes;
    for (std::size_t step = 0; next && step <= shelf.calibrations.size(); ++step) {
        if (*next == calibration.id)
            return true;
        const Calibration* older = shelf.find(*next);
        next = older == nullptr ? std::nullopt : older->supersedes;
    }
    return next.has_value();
}

bool hasPosition(const RepairPath& path, const Shelf& shelf, Position position) {
    return std::any_of(path.applies.begin(), path.applies.end(), [&](const PathApplies& entry) {
        const EngineFamily* family = shelf.find(entry.family);
        return family != nullptr && std::find(family->positions.begin(), family->positions.end(), position) !=
                                        family->positions.end();
    });
}

void checkPathParts(const RepairPath& path, const Shelf& shelf, FindingList& found) {
    for (std::size_t i = 0; i < path.parts.size(); ++i) {
        const PathPart& fitted = path.parts[i];
        found.checkPartEntry(i, fitted.part, fitted.quantity, shelf);
        if (fitted.position && !path.applies.empty() && !hasPosition(path, shelf, *fitted.position))
            found.warning(entryField("parts", i, "position"),
                          "None of the engines of this path has position " + toCode(*fitted.position) + ".");
    }
}

void checkApplies(const RepairPath& path, const Shelf& shelf, FindingList& found) {
    if (path.applies.empty())
        found.warning("applies", "Without an engine family this path is never offered.");
    for (std::size_t i = 0; i < path.applies.size(); ++i) {
        const PathApplies& entry = path.applies[i];
        if (shelf.find(entry.family) == nullptr)
            found.error(entryField("applies", i, "family"),
                        entry.family.isNull() ? "Choose the engine family, or remove its row."
                                              : "This engine family is not on the shelf.");
        found.checkYears(entryField("applies", i, "fromYear"), entry.fromYear, entry.toYear);
        if (entry.needsCalibration && shelf.find(*entry.needsCalibration) == nullptr)
            found.error(entryField("applies", i, "needsCalibration"),
                        "This calibration is not on the shelf.");
        if (entry.excludesCalibration && shelf.find(*entry.excludesCalibration) == nullptr)
            found.error(entryField("applies", i, "excludesCalibration"),
                        "This calibration is not on the shelf.");
        if (entry.needsCalibration && entry.needsCalibration == entry.excludesCalibration)
            found.error(entryField("applies", i, "excludesCalibration"),
                        "The same calibration is both needed and excluded.");
    }
}

} // namespace

Findings validate(const PartNumber& part, const Shelf& shelf) {
    FindingList found;
    found.needText("number", part.number, "Enter the part number.");
    const bool taken = std::any_of(shelf.parts.begin(), shelf.parts.end(), [&](const PartNumber& other) {
        return other.id != part.id && other.number == part.number &&
               other.revisionLabel == part.revisionLabel;
    });
    if (taken)
        found.error("number", "This part number is on the shelf already, at the same revision.");
    if (part.introducedOn && !part.introducedOn->ok())
        found.error("introducedOn", "The day of introduction is not a date.");
    if (part.claimMonths && *part.claimMonths < 0)
        found.error("claimMonths", "The months for a claim cannot be negative.");
    if (part.supersededBy) {
        const PartNumber* successor = shelf.find(*part.supersededBy);
        if (*part.supersededBy == part.id || isInCycle(part, shelf))
            found.error("supersededBy", "A part cannot supersede itself, directly or through others.");
        else if (successor == nullptr)
            found.error("supersededBy", "The part that supersedes this one is not on the shelf.");
        else if (successor->component != part.component)
            found.warning("supersededBy", "The part that supersedes this one is another kind of component.");
    }
    found.checkFreshness(part.freshness);
    return found.take();
}

Findings validate(const Calibration& calibration, const Shelf& shelf) {
    FindingList found;
    found.needText("code", calibration.code, "Enter the calibration's identification.");
    const bool taken =
        std::any_of(shelf.calibrations.begin(), shelf.calibrations.end(), [&](const Calibration& other) {
            return other.id != calibration.id && other.code == calibration.code &&
                   other.module == calibration.module;
        });
    if (taken)
        found.error("code", "This calibration is on the shelf already, for the same module.");
    if (calibration.family && shelf.find(*calibration.family) == nullptr)
        found.error("family", "This engine family is not on the shelf.");
    found.checkYears("fromYear", calibration.fromYear, calibration.toYear);
    if (calibration.releasedOn && !calibration.releasedOn->ok())
        found.error("releasedOn", "The day of release is not a date.");
    if (calibration.supersedes) {
        const Calibration* older = shelf.find(*calibration.supersedes);
        if (*calibration.supersedes == calibration.id || isInCycle(calibration, shelf))
            found.error("supersedes", "A calibration cannot supersede itself, directly or through others.");
        else if (older == nullptr)
            found.error("supersedes", "The calibration that this one supersedes is not on the shelf.");
        else if (older->releasedOn && calibration.releasedOn && *calibration.releasedOn < *older->releasedOn)
            found.warning("supersedes", "It supersedes a calibration that was released later.");
    }
    found.checkFreshness(calibration.freshness);
    return found.take();
}

Findings validate(const RepairPath& path, const Shelf& shelf) {
    FindingList found;
    found.needText("name", path.name, "Enter a name.");
    const bool taken = std::any_of(shelf.paths.begin(), shelf.paths.end(), [&](const RepairPath& other) {
        return other.id != path.id && other.name == path.name;
    });
    if (taken)
        found.error("name", "Another repair path has this name.");
    for (std::size_t i = 0; i < path.lines.size(); ++i)
        found.needText(entryField("lines", i), path.lines[i], "A work line is empty.");
    checkPathParts(path, shelf, found);
    checkApplies(path, shelf, found);
    if (path.calibration) {
        const Calibration* calibration = shelf.find(*path.calibration);
        if (calibration == nullptr)
            found.error("calibration", "This calibration is not on the shelf.");
        else if (const Calibration* newest = shelf.find(newestOf(shelf, calibration->id));
                 newest->id != calibration->id)
            found.warning("calibration", calibration->code + " is superseded by " + newest->code + ".");
    }
    if (path.hours.hundredths < 0)
        found.error("hours", "Hours cannot be negative.");
    if (path.price < Money{})
        found.error("price", "The price cannot be negative.");
    for (std::size_t i = 0; i < path.replaceOnce.size(); ++i)
        found.needText(entryField("replaceOnce", i), path.replaceOnce[i], "An item to be replaced is empty.");
    for (std::size_t i = 0; i < path.cautions.size(); ++i)
        found.needText(entryField("cautions", i), path.cautions[i], "A caution is empty.");
    found.checkFreshness(path.freshness);
    return found.take();
}

Findings validate(const ShelfNote& note) {
    FindingList found;
    found.needText("text", note.text, "Enter the note.");
    if (note.subjectId.isNull())
        found.error("subjectId", "Choose what on the shelf the note is about.");
    if (isBlank(note.source))
        found.hint("source", "Say where this comes from, so that it can be checked again.");
    found.checkFreshness(note.freshness);
    return found.take();
}

} // namespace milehold::core
