// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/office/figure_jobs.h"

#include "ui/widgets/text.h"
#include "ui/words/amounts.h"

#include <QCoreApplication>

namespace milehold::ui {

namespace {

struct Words {
    Q_DECLARE_TR_FUNCTIONS(FigureJobs)
};

template <class Condition> std::vector<core::JobId> jobsWhere(const OfficeGroup& group, Condition condition) {
    std::vector<core::JobId> jobs;
    for (const OfficeJob& job : group.jobs) {
        if (condition(job))
            jobs.push_back(job.job);
    }
    return jobs;
}

JobsBehind all(const OfficeGroup& group) {
    auto jobs = jobsWhere(group, [](const OfficeJob&) { return true; });
    const QString count = repairsText(static_cast<int>(jobs.size()));
    return {std::move(jobs), Words::tr("%1: all %2").arg(groupName(group), count)};
}

} // namespace

QString groupName(const OfficeGroup& group) {
    return group.name.empty() ? Words::tr("not recorded") : toText(group.name);
}

JobsBehind jobsBehind(const OfficeGroup& group, GroupFigure figure, const OfficeView& view) {
    switch (figure) {
    case GroupFigure::CameBack:
        if (group.comebacks() == 0)
            return all(group);
        return {jobsWhere(group, [](const OfficeJob& job) { return job.cameBack; }),
                Words::tr("%1: %2 of %3")
                    .arg(groupName(group), cameBackText(group.comebacks()), repairsText(group.lives()))};
    case GroupFigure::AtMark: {
        auto jobs =
            jobsWhere(group, [&](const OfficeJob& job) { return job.cameBack || job.miles >= view.mark; });
        if (jobs.empty())
            return all(group);
        return {std::move(jobs), Words::tr("%1: those that came back, and those watched past %2")
                                     .arg(groupName(group), distanceText(view.mark, view.query.unit))};
    }
    case GroupFigure::Name:
    case GroupFigure::Known:
    case GroupFigure::Half:
        break;
    }
    return all(group);
}

JobsBehind jobsAtPoint(const OfficeGroup& group, double miles, const OfficeView& view) {
    const QString where = distanceText(miles, view.query.unit);
    const auto fails = [&](const OfficeJob& job) {
        return (job.cameBack || job.assumedBack) && job.miles == miles;
    };
    if (auto here = jobsWhere(group, fails); !here.empty()) {
        const bool worst = view.query.reading == core::Reading::Worst;
        return {std::move(here), (worst ? Words::tr("%1: came back, or unseen since, at %2")
                                        : Words::tr("%1: came back at %2"))
                                     .arg(groupName(group), where)};
    }
    auto watched = jobsWhere(group, [&](const OfficeJob& job) { return job.miles >= miles; });
    if (watched.empty())
        return all(group);
    return {std::move(watched), Words::tr("%1: still watched at %2").arg(groupName(group), where)};
}

} // namespace milehold::ui
