// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/office/owner_topics.h"

#include "ui/widgets/text.h"
#include "ui/words/amounts.h"

#include <QCoreApplication>
#include <QDate>
#include <QLocale>

#include <algorithm>
#include <cmath>

namespace milehold::ui {

namespace {

struct Words {
    Q_DECLARE_TR_FUNCTIONS(OwnerTopics)
};

QString count(int number) {
    return countText(number);
}

QString termsText(const core::WarrantyTerms& terms, core::DistanceUnit unit) {
    const QString months = Words::tr("%1 months").arg(QLocale().toString(terms.months, 'f', 0));
    if (terms.miles >= 1e7)
        return months;
    const QString distance = distanceText(terms.miles, unit);
    return terms.months >= 1'200 ? distance : Words::tr("%1 or %2").arg(months, distance);
}

ForestData shares(const QString& axisName) {
    ForestData data;
    data.percent = true;
    data.logarithmic = false;
    data.reference = 0;
    data.estimateName = Words::tr("share (95 %)");
    data.axisName = axisName;
    return data;
}

void setShare(ForestRow& line, const core::WarrantyCost& cost) {
    line.estimate = cost.share.value;
    line.lower = cost.share.lower;
    line.upper = cost.share.upper;
}

OwnerFigure funnelFigure(const QString& title, const core::Result<core::FunnelReview>& review) {
    OwnerFigure figure;
    figure.title = title;
    if (!review) {
        figure.words = onlyReason(review.error()).lead;
        return figure;
    }
    FunnelData data;
    data.percent = false;
    data.centre = 1;
    data.centreName = Words::tr("expected");
    data.sizeName = Words::tr("comebacks to be expected");
    data.valueName = Words::tr("came back, over what was to be expected");
    double most = 0;
    for (std::size_t i = 0; i < review->funnel.points.size(); ++i) {
        const core::FunnelPoint& point = review->funnel.points[i];
        const QString name = toText(point.name);
        const bool outside = point.ratio < point.lower998 || point.ratio > point.upper998;
        data.points.push_back({name, name, point.expected, point.ratio, outside});
        most = std::max(most, point.expected);
        figure.jobs[name] = {review->jobs[i], Words::tr("%1: %2 came back, %3 were to be expected")
                                                  .arg(name, countText(point.observed),
                                                       QLocale().toString(point.expected, 'f', 1))};
    }
    const double stretch = std::sqrt(review->funnel.overDispersion);
    for (const auto& [name, tail] :
         {std::pair{Words::tr("95 %"), 0.025}, std::pair{Words::tr("99.8 %"), 0.001}}) {
        FunnelLimit limit;
        limit.name = name;
        for (int i = 1; i <= 60; ++i) {
            const double expected = most * 1.05 * i / 60;
            const auto at = [&](double p) {
                return std::max(0.0, 1 + (core::poissonFunnelLimit(expected, p) - 1) * stretch);
            };
            limit.size.push_back(expected);
            limit.lower.push_back(at(tail));
            limit.upper.push_back(at(1 - tail));
        }
        data.limits.push_back(std::move(limit));
    }
    int outside = 0;
    for (const FunnelPoint& point : data.points)
        outside += point.outside;
    figure.words =
        outside == 0
            ? Words::tr("Nothing lies outside the limits: what differs is no more than chance would do.")
            : Words::tr("%1 outside the 99.8 % limits: worth a talk, not a verdict.").arg(count(outside));
    figure.chart = std::move(data);
    return figure;
}

/// The running sums of parts or lots; those past their limit are said in `warned`.
OwnerFigure watchFigure(const QString& title, const std::vector<core::WatchedPart>& parts,
                        QStringList& warned) {
    OwnerFigure figure;
    figure.title = title;
    WatchData data;
    data.valueName = Words::tr("comebacks beyond what is usual, as a share of the limit");
    data.limitName = Words::tr("limit");
    constexpr std::size_t kMostLines = 6;
    for (const core::WatchedPart& part : parts) {
        WatchLine line;
        line.id = line.name = toText(part.name);
        line.warns = part.alarmOn.has_value();
        line.from = QDate(static_cast<int>(part.since.year()),
                          static_cast<int>(static_cast<unsigned>(part.since.month())),
                          static_cast<int>(static_cast<unsigned>(part.since.day())));
        line.spoken = Words::tr("%1: %2 of %3 came back, %4 were to be expected")
                          .arg(line.name, count(part.comebacks), count(part.repairs),
                               QLocale().toString(part.expected, 'f', 1));
        for (const core::CusumPoint& point : part.points) {
            line.day.push_back(point.day);
            line.share.push_back(part.limit > 0 ? point.value / part.limit : 0);
        }
        if (part.alarmOn) {
            const bool isPast = !part.points.empty() && part.points.back().value > part.limit;
            warned
                << (isPast
                        ? Words::tr("%1 passed its limit first on %2 and is past it today: %3 came back "
                                    "where %4 were to be expected by now.")
                        : Words::tr(
                              "%1 passed its limit first on %2 and is below it today: %3 came back where %4 "
                              "were to be expected by now."))
                       .arg(line.name,
                            dateText(toDate(line.from.addDays(static_cast<qint64>(*part.alarmOn)))),
                            count(part.comebacks), QLocale().toString(part.expected, 'f', 1));
        }
        figure.jobs[line.id] = {part.jobs, line.spoken};
        if (data.lines.size() < kMostLines)
            data.lines.push_back(std::move(line));
    }
    figure.chart = std::move(data);
    return figure;
}

} // namespace

OwnerPageData onlyReason(const core::Error& error) {
    QString reason = toText(error.detail);
    if (!reason.isEmpty())
        reason[0] = reason[0].toUpper();
    return {reason + QChar(u'.'), {}, {}, {}, {}};
}

QStringList ownerTopicNames() {
    return {Words::tr("How long"),
            Words::tr("Comebacks"),
            Words::tr("Warranty"),
            Words::tr("Warning"),
            Words::tr("People and suppliers"),
            Words::tr("Factors"),
            Words::tr("Evidence"),
            Words::tr("Our quotes"),
            Words::tr("Report")};
}

OwnerPageData warrantyPage(const core::Result<core::WarrantyReview>& review, core::DistanceUnit unit,
                           const std::string& currency) {
    if (!review)
        return onlyReason(review.error());
    const auto each = [&](const core::WarrantyCost& cost) {
        return roundPriceText(cost.money.value / core::WarrantyOptions{}.jobs, currency);
    };
    OwnerPageData page;
    OwnerFigure figure;
    figure.title = Words::tr("Share of repairs that come back within the terms");
    ForestData data = shares(Words::tr("share of repairs, first comeback within the terms"));
    for (const core::WarrantyRow& row : review->rows) {
        ForestRow line;
        line.name = termsText(row.terms, unit);
        if (row.own)
            line.name = Words::tr("ours: %1").arg(line.name);
        line.id = line.name;
        setShare(line, row.cost);
        if (review->meanCost > 0)
            line.counts = Words::tr("%1 a repair").arg(each(row.cost));
        line.summary = row.own;
        figure.jobs[line.id] = {review->jobs, Words::tr("All comebacks, which the warranty rests on")};
        data.rows.push_back(std::move(line));
    }
    figure.chart = std::move(data);
    page.figures.push_back(std::move(figure));

    OwnerFigure paths;
    paths.title = Words::tr("Path by path, within %1").arg(termsText(review->pathTerms, unit));
    ForestData byPath = shares(Words::tr("share of this path's repairs, first comeback within the terms"));
    for (const core::WarrantyPath& row : review->byPath) {
        ForestRow line;
        line.id = line.name = toText(row.name);
        line.why = toText(row.why);
        line.counts = Words::tr("%1 of %2").arg(count(row.comebacks), count(row.repairs));
        if (row.cost) {
            setShare(line, *row.cost);
            line.weight = row.repairs;
            if (row.ofPrice)
                line.counts = Words::tr("%1, %2 of its price").arg(each(*row.cost), shareText(*row.ofPrice));
        }
        paths.jobs[line.id] = {row.jobs, Words::tr("%1: %2").arg(line.name, cameBackText(row.comebacks))};
        byPath.rows.push_back(std::move(line));
    }
    paths.chart = std::move(byPath);
    page.figures.push_back(std::move(paths));
    page.lead =
        review->meanCost > 0
            ? Words::tr("What a warranty would cost, from the shop's own lives and its %1 drivers, at %2 a "
                        "comeback.")
                  .arg(countText(review->drivers), roundPriceText(review->meanCost, currency))
            : Words::tr("What share a warranty would cover, from the shop's own lives and its %1 drivers. No "
                        "comeback has a cost yet, so no money is said.")
                  .arg(countText(review->drivers));
    page.closing = Words::tr(
        "Read off a smooth curve through the shop's lives (a Weibull life) beside the share that never held, "
        "above for all paths together, below for each by itself. The limits say how unsure that is, from "
        "lives "
        "and drivers weighted at random again and again; how one year falls out varies more. A path with "
        "five "
        "priced comebacks has its own average cost. The diamond is the shop's own warranty.");
    page.isOneColumn = true;
    return page;
}

OwnerPageData earlyWarningPage(const core::Result<std::vector<core::WatchedPart>>& parts,
                               const core::Result<std::vector<core::WatchedPart>>& lots) {
    if (!parts)
        return onlyReason(parts.error());
    OwnerPageData page;
    if (parts->empty()) {
        page.lead = Words::tr("No part has been fitted in %1 repairs yet, so none is watched.")
                        .arg(count(static_cast<int>(core::kFewestToWatch)));
        return page;
    }
    QStringList warned;
    page.figures.push_back(
        watchFigure(Words::tr("How near each part revision is to its limit"), *parts, warned));
    const int watchedLots = lots ? static_cast<int>(lots->size()) : 0;
    if (watchedLots > 0)
        page.figures.push_back(watchFigure(Words::tr("How near each lot is to its limit"), *lots, warned));
    page.lead =
        !warned.isEmpty() ? warned.join(QChar(u'\n'))
        : watchedLots > 0
            ? Words::tr("No part is past its limit, and no lot. Part revisions watched: %1; lots: %2.")
                  .arg(count(static_cast<int>(parts->size())), count(watchedLots))
            : Words::tr("No part is past its limit. Part revisions watched: %1.")
                  .arg(count(static_cast<int>(parts->size())));
    page.closing =
        Words::tr("Each phaser, valve, chain set and tensioner at its own revision, from its first repair "
                  "on, against repairs with other revisions of the same kind. A part in good order passes "
                  "its limit once in twenty years of watching at most. The six nearest to it are drawn.") +
        QChar(u' ') +
        (watchedLots > 0
             ? Words::tr("Each lot that was written down likewise, against repairs with other lots; "
                         "a bad lot shows before its revision does.")
             : Words::tr("No lot was written down in %1 repairs yet, so none is watched.")
                   .arg(count(static_cast<int>(core::kFewestToWatch)))) +
        QChar(u' ') +
        Words::tr("The more is watched, the likelier one warns for nothing: with %1 in good order, "
                  "a year has at most a %2 % chance of a false warning.")
            .arg(count(static_cast<int>(parts->size()) + watchedLots),
                 QLocale().toString(
                     100 * core::chanceOfAnyAlarm(core::kAlarmAYear,
                                                  parts->size() + static_cast<std::size_t>(watchedLots)),
                     'f', 0));
    return page;
}

OwnerPageData peoplePage(const core::Result<core::FunnelReview>& people,
                         const core::Result<core::FunnelReview>& suppliers) {
    OwnerPageData page;
    page.lead =
        Words::tr("Comebacks against what was to be expected of the same paths over the same known distance. "
                  "Few jobs scatter widely: only what lies outside the limits means anything.");
    page.figures.push_back(funnelFigure(Words::tr("People"), people));
    page.figures.push_back(funnelFigure(Words::tr("Suppliers of the main part"), suppliers));
    page.closing = Words::tr(
        "No first and no last within the limits: chance alone puts one in 20 past the 95 % limits, one "
        "in 500 past the 99.8 % limits. They narrow as more is to be expected (a funnel of exact Poisson "
        "limits, widened where ten or more differ more than chance would do). Whoever does most of the work "
        "makes what is usual, and is hardly ever outside.");
    return page;
}

OwnerPageData factorsPage(const core::Result<core::FactorReview>& factors) {
    if (!factors)
        return onlyReason(factors.error());
    OwnerPageData page;
    OwnerFigure figure;
    figure.title = Words::tr("How many times as often it comes back, everything else alike");
    ForestData data;
    data.estimateName = Words::tr("ratio (95 %)");
    data.axisName = Words::tr("ratio of comebacks at the same distance");
    data.lowSide = Words::tr("less often");
    data.highSide = Words::tr("more often");
    QString against;
    for (const core::FactorReview::Row& row : factors->rows) {
        const QString under = toText(row.against);
        if (under != against && !under.isEmpty()) {
            ForestRow heading;
            heading.name = under;
            heading.heading = true;
            data.rows.push_back(heading);
        } else if (under.isEmpty() && !against.isEmpty()) {
            ForestRow heading;
            heading.name = Words::tr("for each");
            heading.heading = true;
            data.rows.push_back(heading);
        }
        against = under;
        ForestRow line;
        line.id = line.name = toText(row.name);
        line.counts = repairsText(row.repairs);
        line.estimate = row.ratio;
        line.lower = row.lower;
        line.upper = row.upper;
        line.weight = row.repairs;
        line.why = toText(row.why);
        figure.jobs[line.id] = {row.jobs, Words::tr("%1: %2").arg(line.name, repairsText(row.repairs))};
        data.rows.push_back(std::move(line));
    }
    figure.chart = std::move(data);
    page.lead = Words::tr("From %1, %2.")
                    .arg(repairsText(static_cast<int>(factors->lives)),
                         cameBackText(static_cast<int>(factors->comebacks)));
    if (factors->proportionalP && *factors->proportionalP < 0.05)
        page.lead += QChar(u' ') +
                     Words::tr("The ratios do not stay the same all along the distance (p = %1): look at "
                               "the curves, too.")
                         .arg(QLocale().toString(*factors->proportionalP, 'g', 2));
    page.figures.push_back(std::move(figure));
    page.closing =
        Words::tr("Each ratio is between repairs alike in all else that is listed, several repairs of one "
                  "vehicle taken together (proportional hazards). What goes together need not cause each "
                  "other: a path may be chosen for the worst engines.");
    return page;
}

} // namespace milehold::ui
