// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/life/call_due.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <tuple>
#include <unordered_map>

namespace milehold::core {

namespace {

constexpr double kDaysOfAYear = 365.25;

/// A day that sorts after all others, for what has none.
const Date kNoDay{std::chrono::year{9999}, std::chrono::December, std::chrono::day{31}};

Date dueSince(const DueCall& call) {
    Date first = kNoDay;
    for (const auto& due : call.due)
        first = std::min(first, due.on);
    return first;
}

bool isShown(const DueCall& call, CallView::Show show) {
    using Show = CallView::Show;
    const auto has = [&call](DueKind kind) {
        return std::any_of(call.due.begin(), call.due.end(),
                           [kind](const CallDue& due) { return due.kind == kind; });
    };
    switch (show) {
    case Show::All:
        return true;
    case Show::Due:
        return !call.due.empty();
    case Show::Days30:
        return has(DueKind::Days30);
    case Show::Months6:
        return has(DueKind::Months6);
    case Show::Months12:
        return has(DueKind::Months12);
    case Show::Months24:
        return has(DueKind::Months24);
    case Show::Distance:
        return has(DueKind::Distance);
    case Show::Warranty:
        return call.call.warrantyOpen;
    }
    return false;
}

} // namespace

std::span<const Distance> dueDistances(DistanceUnit unit) {
    static const std::array<Distance, 6> kMiles = {Distance::miles(10'000), Distance::miles(25'000),
                                                   Distance::miles(40'000), Distance::miles(60'000),
                                                   Distance::miles(80'000), Distance::miles(100'000)};
    static const std::array<Distance, 6> kKilometres = {
        Distance::kilometres(15'000),  Distance::kilometres(40'000),  Distance::kilometres(65'000),
        Distance::kilometres(100'000), Distance::kilometres(130'000), Distance::kilometres(160'000)};
    return unit == DistanceUnit::Kilometres ? kKilometres : kMiles;
}

std::vector<CallDue> dueMarks(const Life& life, DistanceUnit unit, Date today) {
    std::vector<CallDue> due;
    const std::pair<DueKind, Date> marks[] = {{DueKind::Months24, addMonths(life.repairedOn, 24)},
                                              {DueKind::Months12, addMonths(life.repairedOn, 12)},
                                              {DueKind::Months6, addMonths(life.repairedOn, 6)},
                                              {DueKind::Days30, addDays(life.repairedOn, 30)}};
    for (const auto& [kind, on] : marks) {
        if (on > today)
            continue;
        if (life.lastKnownOn < on)
            due.push_back({kind, on, {}});
        break; // an earlier mark has been passed over by this one
    }
    const auto distances = dueDistances(unit);
    const auto beyond = std::upper_bound(distances.begin(), distances.end(), life.known + life.unseen);
    if (beyond != distances.begin() && *(beyond - 1) > life.known && life.yearly.perYear > Distance()) {
        const Distance at = *(beyond - 1);
        const double years = static_cast<double>((at - life.known).metres()) /
                             static_cast<double>(life.yearly.perYear.metres());
        const Date on = addDays(life.lastKnownOn, std::llround(years * kDaysOfAYear));
        due.push_back({DueKind::Distance, std::min(on, today), at});
    }
    return due;
}

std::vector<DueCall> withDueMarks(std::vector<RankedCall> ranked, std::span<const LifeRecord> lives,
                                  DistanceUnit unit, Date today) {
    std::unordered_map<JobId, const Life*> lifeOf;
    for (const auto& record : lives)
        lifeOf.emplace(record.life.job, &record.life);
    std::vector<DueCall> calls;
    calls.reserve(ranked.size());
    for (auto& call : ranked) {
        DueCall& made = calls.emplace_back();
        if (const auto found = lifeOf.find(call.job); found != lifeOf.end()) {
            made.due = dueMarks(*found->second, unit, today);
            made.unseen = found->second->unseen;
        }
        if (call.promisedOn)
            made.due.insert(made.due.begin(), {DueKind::Promised, *call.promisedOn, {}});
        made.call = std::move(call);
    }
    return calls;
}

std::vector<DueCall> pickCalls(std::span<const DueCall> ranked, const CallView& view) {
    std::vector<DueCall> picked;
    for (const auto& call : ranked)
        if (isShown(call, view.show))
            picked.push_back(call);
    const auto by = [&picked](auto key) {
        std::stable_sort(picked.begin(), picked.end(),
                         [&key](const auto& a, const auto& b) { return key(a) < key(b); });
    };
    switch (view.order) {
    case CallView::Order::Worth:
        by([](const DueCall& call) { return !call.call.promisedOn; });
        break;
    case CallView::Order::DueFirst:
        by(dueSince);
        break;
    case CallView::Order::WarrantyFirst:
        by([](const DueCall& call) {
            return std::tuple(!call.call.warrantyOpen, call.call.warrantyEnds.value_or(kNoDay));
        });
        break;
    case CallView::Order::Unseen:
        by([](const DueCall& call) { return -call.unseen.metres(); });
        break;
    }
    return picked;
}

} // namespace milehold::core
