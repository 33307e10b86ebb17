// SPDX-License-Identifier: GPL-3.0-or-later
// The owner's page on what came back, what it cost by kind, and the claims to suppliers.
#include "ui/office/owner_topics.h"
#include "ui/widgets/text.h"
#include "ui/words/amounts.h"
#include "ui/words/labels.h"

#include <QCoreApplication>
#include <QDate>
#include <QLocale>

#include <array>
#include <cmath>

namespace milehold::ui {

namespace {

struct Words {
    Q_DECLARE_TR_FUNCTIONS(OwnerTopics)
};

QString money(core::Money sum, const std::string& currency) {
    return roundPriceText(static_cast<double>(sum.minor), currency);
}

QString count(int number) {
    return countText(number);
}

/// Months as a person reads them: `2031-04` is Apr 2031.
std::vector<core::CostRow> named(std::vector<core::CostRow> months) {
    for (core::CostRow& row : months) {
        const QDate first = QDate::fromString(toText(row.name) + QStringLiteral("-01"), Qt::ISODate);
        if (first.isValid())
            row.name = toUtf8(QLocale().toString(first, QStringLiteral("MMM yyyy")));
    }
    return months;
}

OwnerFigure costBars(const QString& title, const std::vector<core::CostRow>& rows,
                     const std::string& currency, bool keepEmpty) {
    BarData bars;
    OwnerFigure figure;
    figure.title = title;
    for (const core::CostRow& row : rows) {
        if (row.comebacks == 0 && !keepEmpty)
            continue;
        BarRow bar;
        bar.id = toText(row.name);
        bar.name = toText(row.name);
        bar.parts = {{static_cast<double>(row.comebacks), 0}};
        const QString back = row.repairs > 0
                                 ? Words::tr("%1 of %2").arg(count(row.comebacks), count(row.repairs))
                                 : count(row.comebacks);
        bar.figure = row.comebacks == 0 ? QStringLiteral("0")
                     : row.costs != core::CostSum{}
                         ? Words::tr("%1, %2").arg(back, money(row.cost(), currency))
                         : back;
        figure.jobs[bar.id] = {row.jobs, Words::tr("%1: %2").arg(bar.name, cameBackText(row.comebacks))};
        bars.rows.push_back(std::move(bar));
    }
    bars.axisName = Words::tr("came back");
    figure.chart = std::move(bars);
    return figure;
}

/// The parts of a bar in the order of costKindNames(); what was credited is no part, it is taken off the
/// figure.
std::array<core::Money, 6> kindsOf(const core::CostSum& costs) {
    return {costs.kinds.labour, costs.kinds.parts,    costs.kinds.rental,
            costs.kinds.towing, costs.kinds.goodwill, costs.other};
}

BarRow kindBar(const QString& name, const core::CostSum& costs, const std::string& currency) {
    const double unit = std::pow(10.0, minorDigits(toText(currency)));
    BarRow bar;
    bar.id = bar.name = name;
    int look = 0;
    for (const core::Money part : kindsOf(costs))
        bar.parts.push_back({static_cast<double>(part.minor) / unit, look++});
    bar.figure = costs.kinds.credit == core::Money{}
                     ? money(costs.total(), currency)
                     : Words::tr("%1 after %2 credited")
                           .arg(money(costs.total(), currency), money(costs.kinds.credit, currency));
    return bar;
}

/// All comebacks, then each path that cost anything.
OwnerFigure kindBars(const core::ComebackReview& review, const std::string& currency) {
    OwnerFigure figure;
    figure.title = Words::tr("What they cost the shop, by kind");
    BarData bars;
    bars.partNames = costKindNames();
    bars.axisName = Words::tr("cost before credits, %1").arg(toText(currency));
    const QString all = Words::tr("All paths");
    bars.rows.push_back(kindBar(all, review.costs, currency));
    std::vector<core::JobId> everyJob;
    for (const core::CostRow& row : review.byPath) {
        everyJob.insert(everyJob.end(), row.jobs.begin(), row.jobs.end());
        if (row.costs == core::CostSum{})
            continue;
        bars.rows.push_back(kindBar(toText(row.name), row.costs, currency));
        figure.jobs[toText(row.name)] = {
            row.jobs, Words::tr("%1: %2").arg(toText(row.name), cameBackText(row.comebacks))};
    }
    figure.jobs[all] = {everyJob, Words::tr("%1: %2").arg(all, cameBackText(review.comebacks))};
    figure.chart = std::move(bars);
    return figure;
}

OwnerTable claimTable(std::span<const core::ClaimRow> claims, core::Date today, const std::string& currency) {
    OwnerTable table;
    table.title = Words::tr("C&laims to suppliers");
    table.headers = {Words::tr("State"),   Words::tr("Deadline"), Words::tr("Job"),    Words::tr("Number"),
                     Words::tr("Claimed"), Words::tr("Credited"), Words::tr("Vehicle")};
    table.widths = {130, 200, 70, 120, 110, 110};
    table.numbers = {2, 4, 5};
    for (const core::ClaimRow& claim : claims) {
        OwnerTable::Row row;
        row.job = claim.job;
        row.vehicle = claim.vehicle;
        row.needsYou = claim.urgency != core::ClaimUrgency::None;
        row.cells = {word(claim.state),
                     deadlineText(claim, today),
                     count(static_cast<int>(claim.jobNumber)),
                     toText(claim.number),
                     claim.claimed ? moneyText(*claim.claimed, toText(currency)) : QString(),
                     claim.state == core::ClaimState::Credited ? moneyText(claim.credited, toText(currency))
                                                               : QString(),
                     toText(claim.vehicleLabel)};
        table.rows.push_back(std::move(row));
    }
    return table;
}

/// What of the claims needs the owner, and what lies with suppliers.
QString claimsSentence(std::span<const core::ClaimRow> claims, const std::string& currency) {
    int past = 0;
    int near = 0;
    int filed = 0;
    core::Money waiting;
    for (const core::ClaimRow& claim : claims) {
        past += claim.urgency == core::ClaimUrgency::Past;
        near += claim.urgency == core::ClaimUrgency::Near;
        if (claim.state != core::ClaimState::Filed)
            continue;
        ++filed;
        waiting = waiting + claim.claimed.value_or(core::Money{});
    }
    QStringList said;
    if (past > 0)
        said << Words::tr("Claims past their deadline: %1.").arg(count(past));
    if (near > 0)
        said << Words::tr("To be filed within %1 days: %2.").arg(count(core::kClaimNearDays), count(near));
    if (filed > 0)
        said << Words::tr("Filed and not decided: %1, %2 claimed.")
                    .arg(count(filed), money(waiting, currency));
    return said.join(QChar(u' '));
}

} // namespace

QStringList costKindNames() {
    return {Words::tr("labour"), Words::tr("parts"),    Words::tr("rental"),
            Words::tr("towing"), Words::tr("goodwill"), Words::tr("other")};
}

QString deadlineText(const core::ClaimRow& claim, core::Date today) {
    if (!claim.deadline || !claim.deadline->ok())
        return claim.state == core::ClaimState::ToFile ? Words::tr("no deadline yet") : QString();
    const QString day = dateText(*claim.deadline);
    const auto left = core::daysBetween(today, *claim.deadline);
    switch (claim.urgency) {
    case core::ClaimUrgency::Past:
        return left == -1 ? Words::tr("%1, past since yesterday").arg(day)
                          : Words::tr("%1, %2 days past").arg(day).arg(-left);
    case core::ClaimUrgency::Near:
        return left == 0   ? Words::tr("%1, today").arg(day)
               : left == 1 ? Words::tr("%1, tomorrow").arg(day)
                           : Words::tr("%1, in %2 days").arg(day).arg(left);
    case core::ClaimUrgency::None:
        break;
    }
    return day;
}

OwnerPageData comebacksPage(const core::ComebackReview& review, std::span<const core::ClaimRow> claims,
                            core::Date today, const std::string& currency) {
    OwnerPageData page;
    page.table = claimTable(claims, today, currency);
    const QString claimed = claimsSentence(claims, currency);
    if (review.comebacks == 0) {
        page.lead = Words::tr("Nothing has come back so far that the shop has heard of.");
        if (!claimed.isEmpty())
            page.lead += QChar(u' ') + claimed;
        return page;
    }
    page.lead = Words::tr("%1 so far.").arg(cameBackText(review.comebacks));
    if (review.priced > 0) {
        page.lead +=
            QChar(u' ') +
            Words::tr("%1 of them have a cost: %2 in all, %3 each on average.")
                .arg(count(review.priced), money(review.cost(), currency),
                     roundPriceText(static_cast<double>(review.cost().minor) / review.priced, currency));
    } else {
        page.lead += QChar(u' ') + Words::tr("None of them has a cost recorded yet.");
    }
    if (!claimed.isEmpty())
        page.lead += QChar(u' ') + claimed;
    page.figures.push_back(costBars(Words::tr("By repair path"), review.byPath, currency, false));
    if (review.priced > 0)
        page.figures.push_back(kindBars(review, currency));
    page.figures.push_back(costBars(Words::tr("Why they came back"), review.byReason, currency, false));
    page.figures.push_back(
        costBars(Words::tr("The last twelve months"), named(review.byMonth), currency, true));
    page.closing =
        Words::tr("Cost is labour at cost, parts, rental, towing and goodwill, less credits, as recorded at "
                  "the job where the vehicle came back; other is also what nobody broke down. "
                  "A bar opens the repairs that did not hold, a claim its job.");
    return page;
}

} // namespace milehold::ui
