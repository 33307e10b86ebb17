// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quantity/date.h"
#include "core/quantity/money.h"
#include "core/shop/engine.h"
#include "core/shop/id.h"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace milehold::core {

/// Facts age: when a fact was last checked against its source, and when it wants checking again.
struct Freshness {
    std::optional<Date> checkedOn;
    std::optional<Date> checkAgainBy;
    friend bool operator==(const Freshness&, const Freshness&) = default;
};

/// A fact is stale from the day after `checkAgainBy`.
bool isStale(const Freshness& freshness, Date today);

enum class Component : std::uint8_t {
    Phaser,
    OilControlValve,
    ChainSet,
    Tensioner,
    Guide,
    Seal,
    Fastener,
    Oil,
    Other
};

/// A part number at one revision. A newer revision is a part number of its own, named by supersededBy.
struct PartNumber {
    PartNumberId id;
    std::string number; ///< never blank; unique together with revisionLabel
    Component component = Component::Other;
    std::string revisionLabel;
    std::string whatChanged;
    std::optional<Date> introducedOn;
    std::optional<PartNumberId> supersededBy; ///< never in a cycle
    std::string supplier;
    std::optional<int> claimMonths; ///< how long the supplier takes claims
    Freshness freshness;
    std::int64_t revision = 0;
    friend bool operator==(const PartNumber&, const PartNumber&) = default;
};

/// A software level of an engine computer. A newer one names the one that it supersedes.
struct Calibration {
    CalibrationId id;
    std::string code; ///< never blank; unique together with module
    std::string module;
    std::optional<EngineFamilyId> family;
    std::optional<int> fromYear;
    std::optional<int> toYear;
    std::optional<CalibrationId> supersedes; ///< never in a cycle
    std::optional<Date> releasedOn;
    Freshness freshness;
    std::int64_t revision = 0;
    friend bool operator==(const Calibration&, const Calibration&) = default;
};

/// A part that a repair path fits by default.
struct PathPart {
    PartNumberId part;
    std::optional<Position> position;
    int quantity = 1; ///< >= 1
    friend bool operator==(const PathPart&, const PathPart&) = default;
};

/// Where a repair path may be used. An end of the model years that is empty is open.
struct PathApplies {
    PathAppliesId id;
    EngineFamilyId family;
    std::optional<int> fromYear;
    std::optional<int> toYear;
    std::optional<CalibrationId> needsCalibration;
    std::optional<CalibrationId> excludesCalibration;
    friend bool operator==(const PathApplies&, const PathApplies&) = default;
};

/// A named way of repairing, with all that it fills into a job.
struct RepairPath {
    RepairPathId id;
    std::string name;                 ///< never blank
    std::vector<std::string> lines;   ///< default work lines
    std::vector<PathPart> parts;      ///< default parts by position
    std::vector<PathApplies> applies; ///< empty: nowhere
    std::optional<CalibrationId> calibration;
    Hours hours;
    Money price;
    std::vector<std::string> replaceOnce; ///< what must not be used a second time
    std::vector<std::string> cautions;
    bool active = true;
    Freshness freshness;
    std::int64_t revision = 0;
    friend bool operator==(const RepairPath&, const RepairPath&) = default;
};

enum class ShelfSubject : std::uint8_t { EngineFamily, RepairPath, PartNumber, Calibration };

/// A dated note on something on the shelf.
struct ShelfNote {
    ShelfNoteId id;
    ShelfSubject subject = ShelfSubject::RepairPath;
    Uuid subjectId;
    std::string text; ///< never blank
    std::string source;
    Freshness freshness;
    std::int64_t revision = 0;
    friend bool operator==(const ShelfNote&, const ShelfNote&) = default;
};

/// Everything on the shelf, as validation, forms and quotes read it.
struct Shelf {
    std::vector<EngineFamily> families;
    std::vector<RepairPath> paths;
    std::vector<PartNumber> parts;
    std::vector<Calibration> calibrations;
    std::vector<ShelfNote> notes;

    const EngineFamily* find(EngineFamilyId id) const;
    const RepairPath* find(RepairPathId id) const;
    const PartNumber* find(PartNumberId id) const;
    const Calibration* find(CalibrationId id) const;
    friend bool operator==(const Shelf&, const Shelf&) = default;
};

/// The newest revision of a part, following supersededBy; the part itself when it is current or not on the
/// shelf.
PartNumberId newestOf(const Shelf& shelf, PartNumberId part);
/// The newest calibration that follows from this one through `supersedes`; the latest released where it
/// forks.
CalibrationId newestOf(const Shelf& shelf, CalibrationId calibration);

} // namespace milehold::core
