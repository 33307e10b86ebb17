// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/ui/office/office_sample.h"

#include "core/quote/path_evidence.h"

#include <algorithm>
#include <cmath>
#include <random>

namespace milehold::tests {

namespace {

ui::OfficeGroup groupOf(const GroupStory& told, double mark, unsigned& number) {
    ui::OfficeGroup group;
    group.name = told.name;
    core::Lives lives;
    const auto add = [&](double miles, bool back) {
        lives.miles.push_back(miles);
        lives.end.push_back(back ? core::kCameBack : core::kHolding);
        group.jobs.push_back({jobId(++number), miles, back, false});
        group.evidence.known += miles;
    };
    for (const double miles : told.cameBack)
        add(miles, true);
    for (const double miles : told.holding)
        add(miles, false);
    group.evidence.lives = group.evidence.contributing = group.evidence.followed = lives.size();
    group.evidence.cameBack = told.cameBack.size();
    group.evidence.holding = told.holding.size();
    group.evidence.unseen.holding = told.unseen;
    const double driven = group.evidence.known + told.unseen;
    if (driven > 0)
        group.evidence.completeness = group.evidence.known / driven;
    group.counts = core::countsOfAll(lives);
    if (auto watched = core::WatchedSet::of(group.counts, 0.95)) {
        group.curve = watched->curve();
        group.atMark = watched->pointAt(mark);
        group.readings = {mark, std::nullopt, std::nullopt, std::nullopt};
        if (group.atMark.chance) {
            group.readings.known = *group.atMark.chance;
            group.readings.best = std::min(1.0, *group.atMark.chance + 0.04);
            group.readings.worst = *group.atMark.chance * 0.8;
        }
    }
    group.median = core::quantile(group.curve, 0.5);
    return group;
}

} // namespace

core::JobId jobId(unsigned number) {
    core::JobId id;
    for (std::size_t i = 0; i < 4; ++i)
        id.uuid.bytes[15 - i] = static_cast<std::uint8_t>(number >> (8 * i));
    return id;
}

GroupStory story(const std::string& name, int count, double shareBack, double longest, unsigned seed) {
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> even(0, 1);
    GroupStory told;
    told.name = name;
    for (int i = 0; i < count; ++i) {
        const bool back = even(random) < shareBack;
        const double place = even(random);
        const double miles = std::round(longest * (back ? std::pow(place, 0.7) * 0.8 : std::sqrt(place)));
        (back ? told.cameBack : told.holding).push_back(std::max(1.0, miles));
    }
    told.unseen = 0.3 * longest * count * even(random);
    return told;
}

ui::OfficeView officeView(const std::vector<GroupStory>& stories, double mark) {
    ui::OfficeView view;
    view.query.mark = 0;
    view.mark = mark;
    unsigned number = 0;
    GroupStory all;
    for (const GroupStory& told : stories) {
        view.groups.push_back(groupOf(told, mark, number));
        all.cameBack.insert(all.cameBack.end(), told.cameBack.begin(), told.cameBack.end());
        all.holding.insert(all.holding.end(), told.holding.begin(), told.holding.end());
        all.unseen += told.unseen;
    }
    number = 0;
    view.all = groupOf(all, mark, number);
    return view;
}

} // namespace milehold::tests
