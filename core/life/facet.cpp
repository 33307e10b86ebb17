// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/life/life_record.h"
#include "core/shop/names.h"

#include <algorithm>
#include <array>
#include <set>

namespace milehold::core {

namespace {

constexpr int kYearsInABand = 3;

std::string pathOf(const LifeRecord& record, const FacetNames& names) {
    if (!record.life.path)
        return {};
    const RepairPath* path = names.shelf.find(*record.life.path);
    return path == nullptr ? std::string() : path->name;
}

std::string phaserRevisionOf(const LifeRecord& record, const FacetNames& names) {
    std::set<std::string> revisions;
    for (const PartNumberId id : record.parts) {
        const PartNumber* part = names.shelf.find(id);
        if (part == nullptr || part->component != Component::Phaser)
            continue;
        revisions.insert(partLabel(*part));
    }
    std::string all;
    for (const auto& revision : revisions)
        (all += all.empty() ? "" : " + ") += revision;
    return all;
}

std::string calibrationOf(const LifeRecord& record, const FacetNames&) {
    return record.calibration;
}

std::string engineOf(const LifeRecord& record, const FacetNames& names) {
    if (!record.family)
        return {};
    const EngineFamily* family = names.shelf.find(*record.family);
    return family == nullptr ? std::string() : family->name;
}

std::string modelYearsOf(const LifeRecord& record, const FacetNames&) {
    if (!record.modelYear)
        return {};
    const int from = *record.modelYear - *record.modelYear % kYearsInABand;
    return std::to_string(from) + " to " + std::to_string(from + kYearsInABand - 1);
}

std::string technicianOf(const LifeRecord& record, const FacetNames& names) {
    if (!record.technician)
        return {};
    const auto found = std::find_if(names.staff.begin(), names.staff.end(),
                                    [&](const Staff& staff) { return staff.id == *record.technician; });
    return found == names.staff.end() ? std::string() : found->name;
}

std::string deliveryYearOf(const LifeRecord& record, const FacetNames&) {
    return std::to_string(static_cast<int>(record.life.repairedOn.year()));
}

std::string ordinalOf(const LifeRecord& record, const FacetNames&) {
    return record.life.ordinal == 1 ? "First repair" : "Repeat repair";
}

// To group curves another way, add one line here.
constexpr std::array<Facet, 8> kFacets = {{
    {"path", "Repair path", pathOf},
    {"phaser-revision", "Phaser part revision", phaserRevisionOf},
    {"calibration", "Calibration", calibrationOf},
    {"engine", "Engine family", engineOf},
    {"model-years", "Model years", modelYearsOf},
    {"technician", "Technician", technicianOf},
    {"delivery-year", "Year of delivery", deliveryYearOf},
    {"repeat", "First or repeat repair", ordinalOf},
}};

} // namespace

std::span<const Facet> facets() {
    return kFacets;
}

const Facet* facetById(std::string_view id) {
    const auto found =
        std::find_if(kFacets.begin(), kFacets.end(), [&](const Facet& facet) { return facet.id == id; });
    return found == kFacets.end() ? nullptr : &*found;
}

} // namespace milehold::core
