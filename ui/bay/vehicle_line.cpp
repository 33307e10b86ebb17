// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/bay/vehicle_line.h"

#include "core/life/odometer.h"

#include <algorithm>
#include <optional>
#include <tuple>

namespace milehold::ui {
namespace {

core::Date dayOf(const core::Job& job) {
    return job.delivered.value_or(job.writtenUp);
}

std::optional<core::Distance> shownBy(const core::Job& job) {
    if (job.delivered && job.odometerOut)
        return job.odometerOut;
    return job.odometerIn ? job.odometerIn : job.odometerOut;
}

LineMark markOf(const core::Job& job, const core::Instruments& instruments) {
    LineMark mark;
    mark.kind = job.kind == core::JobKind::Repair  ? LineMark::Kind::Repair
                : job.kind == core::JobKind::Visit ? LineMark::Kind::Visit
                                                   : LineMark::Kind::Elsewhere;
    mark.id = job.id.uuid;
    mark.job = job.id;
    mark.number = job.number;
    mark.date = dayOf(job);
    mark.inWork = !job.isDelivered();
    if (const auto shown = shownBy(job)) {
        mark.at = instruments.runAt(mark.date, *shown);
        mark.measured = true;
    }
    return mark;
}

LineMark markOf(const core::FollowUp& call, const core::Instruments& instruments) {
    LineMark mark;
    mark.kind = LineMark::Kind::Call;
    mark.id = call.id.uuid;
    mark.job = call.job;
    mark.date = call.date;
    mark.outcome = call.outcome;
    if (call.odometer) {
        mark.at = instruments.runAt(call.date, *call.odometer);
        mark.measured = true;
    }
    return mark;
}

/// Where a mark without an odometer belongs: between its measured neighbours in time, or beside the only one.
void placeUnmeasured(std::vector<LineMark>& marks) {
    std::vector<const LineMark*> measured;
    for (const auto& mark : marks)
        if (mark.measured)
            measured.push_back(&mark);
    for (auto& mark : marks) {
        if (mark.measured || measured.empty())
            continue;
        const auto after = std::find_if(measured.begin(), measured.end(),
                                        [&](const LineMark* other) { return other->date > mark.date; });
        if (after == measured.begin()) {
            mark.at = (*after)->at;
        } else if (after == measured.end()) {
            mark.at = measured.back()->at;
        } else {
            const LineMark& left = **(after - 1);
            const LineMark& right = **after;
            const auto span = core::daysBetween(left.date, right.date);
            const auto passed = core::daysBetween(left.date, mark.date);
            const double share = span > 0 ? static_cast<double>(passed) / static_cast<double>(span) : 0;
            const auto run = static_cast<double>((right.at - left.at).metres());
            mark.at = left.at + core::Distance::fromMetres(static_cast<std::int64_t>(share * run));
        }
    }
}

} // namespace

VehicleLine vehicleLine(const core::VehicleHistory& history, std::span<const core::Life> lives) {
    const core::Instruments instruments(history);
    VehicleLine line;
    for (const auto& job : history.jobs)
        if (!job.isVoid())
            line.marks.push_back(markOf(job, instruments));
    for (const auto& call : history.followUps)
        if (!call.isVoid())
            line.marks.push_back(markOf(call, instruments));
    for (const auto& reading : history.odometers) {
        if (reading.source != core::OdometerSource::Typed)
            continue;
        LineMark mark;
        mark.id = reading.id.uuid;
        mark.date = reading.date;
        mark.at = instruments.runAt(reading.date, reading.shown);
        mark.measured = true;
        line.marks.push_back(mark);
    }
    std::stable_sort(line.marks.begin(), line.marks.end(), [](const LineMark& a, const LineMark& b) {
        return std::tie(a.date, a.at) < std::tie(b.date, b.at);
    });
    placeUnmeasured(line.marks);

    for (const auto& life : lives) {
        const auto mark = std::find_if(line.marks.begin(), line.marks.end(), [&](const LineMark& candidate) {
            return candidate.kind != LineMark::Kind::Call && candidate.job == life.job;
        });
        if (mark == line.marks.end() || !mark->measured)
            continue;
        LineBar bar{life.job, life.state, mark->at, mark->at + life.known, {}, {}};
        bar.until = life.until ? mark->at + *life.until : bar.known;
        bar.unseen = bar.known + life.unseen;
        line.bars.push_back(bar);
    }

    bool any = false;
    const auto reach = [&](core::Distance at) {
        line.first = any ? std::min(line.first, at) : at;
        line.last = any ? std::max(line.last, at) : at;
        any = true;
    };
    for (const auto& mark : line.marks)
        reach(mark.at);
    for (const auto& bar : line.bars) {
        reach(bar.until);
        reach(bar.unseen);
    }
    return line;
}

} // namespace milehold::ui
