// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/life/life.h"
#include "core/shop/labels.h"
#include "core/shop/names.h"
#include "sample-shop/sample_shop.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <unordered_map>

namespace milehold::sample {
namespace {

std::string quoted(std::string_view text) {
    if (text.find_first_of(",\"\r\n") == std::string_view::npos)
        return std::string(text);
    std::string result = "\"";
    for (const char c : text) {
        if (c == '"')
            result += '"';
        result += c;
    }
    return result + '"';
}

std::string number(double value) {
    char text[40];
    std::snprintf(text, sizeof text, "%.10g", value);
    return text;
}

/// Odometers are typed in whole miles and kept in whole metres, so a difference of two is a whole mile give
/// or take a metre: it is written whole again. A late entry keeps its metres, which tell it from what
/// follows.
std::string mileage(double miles, bool exact) {
    constexpr double kMetre = core::Distance::fromMetres(1).in(core::DistanceUnit::Miles);
    const double whole = std::round(miles);
    return number(!exact && std::fabs(miles - whole) <= 1.01 * kMetre ? whole : miles);
}

std::string_view endOf(const core::Life& life) {
    if (life.cameBack())
        return "came-back";
    if (life.state != core::LifeState::EndedOtherwise)
        return "holding";
    return core::toCode(life.otherEnd);
}

/// Revision of the part that decides, blank where none does.
std::string revisionOf(const core::Job& job, const core::Shelf& shelf) {
    for (const core::JobPart& fitted : job.parts) {
        const core::PartNumber* part = shelf.find(fitted.part);
        if (part != nullptr && (part->component == core::Component::Phaser ||
                                part->component == core::Component::OilControlValve))
            return core::partLabel(*part);
    }
    return {};
}

} // namespace

core::Result<std::string> livesTable(const SampleShop& sample) {
    std::unordered_map<core::JobId, const LifeTruth*> truths;
    for (const LifeTruth& truth : sample.truth.lives)
        truths.emplace(truth.job, &truth);

    std::string out =
        "miles,end,last_quiet,entry,group,vehicle,family,revision,calibration,oil,true_miles,true_shape,"
        "true_scale,true_never_held\n";
    for (const core::VehicleHistory& history : histories(sample)) {
        auto lives = core::deriveLives(history, sample.settings, sample.endsOn, &sample.shelf);
        if (!lives)
            return core::failureOf(lives);
        const core::LifeColumns columns =
            core::toColumns(*lives, core::DistanceUnit::Miles, core::Reading::Known, core::Intervals::Keep);
        for (std::size_t i = 0; i < columns.rows.size(); ++i) {
            const core::Life& life = (*lives)[columns.rows[i]];
            const auto job = std::find_if(history.jobs.begin(), history.jobs.end(),
                                          [&](const core::Job& row) { return row.id == life.job; });
            const auto truth = truths.find(life.job);
            if (job == history.jobs.end() || truth == truths.end())
                return core::fail(core::ErrorCode::Internal, "a life of the sample has no job or no truth");
            const core::RepairPath* path = life.path ? sample.shelf.find(*life.path) : nullptr;
            const core::EngineFamily* family =
                history.vehicle.family ? sample.shelf.find(*history.vehicle.family) : nullptr;
            const core::Lives& told = columns.lives;
            const bool late = told.entryOf(i) > 0;
            // As `export lives` writes them: a comeback where it was seen, beside its last quiet.
            out += mileage(told.untilOf(i), late) + ',' + std::string(endOf(life)) + ',';
            if (told.untilOf(i) > told.miles[i])
                out += mileage(told.miles[i], late);
            out += ',' + mileage(told.entryOf(i), late) + ',' + quoted(path != nullptr ? path->name : "") +
                   ',' + history.vehicle.vin + ',' + quoted(family != nullptr ? family->name : "") + ',' +
                   quoted(revisionOf(*job, sample.shelf)) + ',' + job->calibrationAfter + ',' +
                   std::string(core::toCode(job->oilCondition)) + ',' + number(truth->second->miles) + ',' +
                   number(truth->second->shape) + ',' + number(truth->second->scale) + ',' +
                   number(truth->second->neverHeld) + '\n';
        }
    }
    return out;
}

} // namespace milehold::sample
