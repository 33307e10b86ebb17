// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/shop/shelf.h"
#include "storage/records/record_table.h"

namespace milehold::storage {

using core::Calibration;
using core::EngineFamily;
using core::Freshness;
using core::PartNumber;
using core::PathApplies;
using core::PathPart;
using core::RepairPath;
using core::ShelfNote;

template <> const RecordTable<EngineFamily>& recordTable() {
    static const RecordTable<EngineFamily> kTable{
        "engine_family",
        {column<EngineFamily, &EngineFamily::name>("name"),
         column<EngineFamily, &EngineFamily::banks>("banks"),
         column<EngineFamily, &EngineFamily::note>("note")},
        {{.field = "positions",
          .table = "engine_position",
          .owner = "family_id",
          .columns = {"position"},
          .readColumns = 1,
          .get =
              [](const EngineFamily& family) {
                  std::vector<std::vector<Value>> rows;
                  for (const auto& position : family.positions)
                      rows.push_back({encode(position)});
                  return rows;
              },
          .add =
              [](EngineFamily& family, const std::vector<Value>& row) {
                  return decode(row[0], family.positions.emplace_back());
              }}}};
    return kTable;
}

template <> const RecordTable<PartNumber>& recordTable() {
    static const RecordTable<PartNumber> kTable{
        "part_number",
        {column<PartNumber, &PartNumber::number>("number"),
         column<PartNumber, &PartNumber::component>("component"),
         column<PartNumber, &PartNumber::revisionLabel>("revision_label"),
         column<PartNumber, &PartNumber::whatChanged>("what_changed"),
         column<PartNumber, &PartNumber::introducedOn>("introduced_on"),
         column<PartNumber, &PartNumber::supersededBy>("superseded_by"),
         column<PartNumber, &PartNumber::supplier>("supplier"),
         column<PartNumber, &PartNumber::claimMonths>("claim_months"),
         column<PartNumber, &PartNumber::freshness, &Freshness::checkedOn>("checked_on"),
         column<PartNumber, &PartNumber::freshness, &Freshness::checkAgainBy>("check_again_by")}};
    return kTable;
}

template <> const RecordTable<Calibration>& recordTable() {
    static const RecordTable<Calibration> kTable{
        "calibration",
        {column<Calibration, &Calibration::code>("code"), column<Calibration, &Calibration::module>("module"),
         column<Calibration, &Calibration::family>("family_id"),
         column<Calibration, &Calibration::fromYear>("from_year"),
         column<Calibration, &Calibration::toYear>("to_year"),
         column<Calibration, &Calibration::supersedes>("supersedes"),
         column<Calibration, &Calibration::releasedOn>("released_on"),
         column<Calibration, &Calibration::freshness, &Freshness::checkedOn>("checked_on"),
         column<Calibration, &Calibration::freshness, &Freshness::checkAgainBy>("check_again_by")}};
    return kTable;
}

template <> const RecordTable<RepairPath>& recordTable() {
    static const RecordTable<RepairPath> kTable = [] {
        ListTable<RepairPath> parts{
            .field = "parts",
            .table = "path_part",
            .owner = "path_id",
            .columns = {"part_id", "position", "quantity"},
            .readColumns = 3,
            .get =
                [](const RepairPath& path) {
                    std::vector<std::vector<Value>> rows;
                    for (const auto& part : path.parts) {
                        rows.push_back({encode(part.part), encode(part.position), encode(part.quantity)});
                    }
                    return rows;
                },
            .add =
                [](RepairPath& path, const std::vector<Value>& row) {
                    PathPart& part = path.parts.emplace_back();
                    return decode(row[0], part.part) && decode(row[1], part.position) &&
                           decode(row[2], part.quantity);
                }};
        ListTable<RepairPath> applies{
            .field = "applies",
            .table = "path_applies",
            .owner = "path_id",
            .columns = {"id", "family_id", "from_year", "to_year", "needs_calibration",
                        "excludes_calibration"},
            .readColumns = 6,
            .get =
                [](const RepairPath& path) {
                    std::vector<std::vector<Value>> rows;
                    for (const auto& one : path.applies) {
                        rows.push_back({encode(one.id), encode(one.family), encode(one.fromYear),
                                        encode(one.toYear), encode(one.needsCalibration),
                                        encode(one.excludesCalibration)});
                    }
                    return rows;
                },
            .add =
                [](RepairPath& path, const std::vector<Value>& row) {
                    PathApplies& one = path.applies.emplace_back();
                    return decode(row[0], one.id) && decode(row[1], one.family) &&
                           decode(row[2], one.fromYear) && decode(row[3], one.toYear) &&
                           decode(row[4], one.needsCalibration) && decode(row[5], one.excludesCalibration);
                }};
        return RecordTable<RepairPath>{
            "repair_path",
            {column<RepairPath, &RepairPath::name>("name"),
             column<RepairPath, &RepairPath::calibration>("calibration_id"),
             column<RepairPath, &RepairPath::hours>("hours"), column<RepairPath, &RepairPath::price>("price"),
             column<RepairPath, &RepairPath::active>("active"),
             column<RepairPath, &RepairPath::freshness, &Freshness::checkedOn>("checked_on"),
             column<RepairPath, &RepairPath::freshness, &Freshness::checkAgainBy>("check_again_by")},
            {textList<RepairPath, &RepairPath::lines>("lines", "path_line", "path_id", "line"), parts,
             applies,
             textList<RepairPath, &RepairPath::replaceOnce>("replace_once", "path_replace_once", "path_id",
                                                            "item"),
             textList<RepairPath, &RepairPath::cautions>("cautions", "path_caution", "path_id", "caution")}};
    }();
    return kTable;
}

template <> const RecordTable<ShelfNote>& recordTable() {
    static const RecordTable<ShelfNote> kTable{
        "shelf_note",
        {column<ShelfNote, &ShelfNote::subject>("subject"),
         column<ShelfNote, &ShelfNote::subjectId>("subject_id"), column<ShelfNote, &ShelfNote::text>("text"),
         column<ShelfNote, &ShelfNote::source>("source"),
         column<ShelfNote, &ShelfNote::freshness, &Freshness::checkedOn>("checked_on"),
         column<ShelfNote, &ShelfNote::freshness, &Freshness::checkAgainBy>("check_again_by")}};
    return kTable;
}

} // namespace milehold::storage
