// SPDX-License-Identifier: GPL-3.0-or-later
// The owner's pages on the records themselves: evidence, our own quotes, the month's report.
#include "ui/office/owner_topics.h"
#include "ui/office/review_words.h"
#include "ui/widgets/text.h"
#include "ui/words/amounts.h"

#include <QCoreApplication>
#include <QDate>
#include <QLocale>

#include <algorithm>

namespace milehold::ui {

namespace {

struct Words {
    Q_DECLARE_TR_FUNCTIONS(OwnerTopics)
};

constexpr int kMonths = 24;

QString count(int number) {
    return countText(number);
}

} // namespace

OwnerPageData evidencePage(const OfficeView& view) {
    OwnerPageData page;
    if (view.groups.empty()) {
        page.lead = Words::tr("No repair to follow yet.");
        return page;
    }
    OwnerFigure figure;
    const core::DistanceUnit unit = view.query.unit;
    figure.title = Words::tr("Distance since the repairs: known, and seen by nobody");
    BarData bars;
    bars.partNames = {Words::tr("known"), Words::tr("unseen, may be called"), Words::tr("no contact"),
                      Words::tr("sold"),  Words::tr("not to be called"),      Words::tr("before a comeback")};
    bars.axisName = Words::tr("thousand %1").arg(unitWord(unit));
    for (const OfficeGroup& group : view.groups) {
        const core::Evidence& evidence = group.evidence;
        BarRow row;
        row.id = row.name = groupName(group);
        const double parts[] = {evidence.known,       evidence.unseen.holding,   evidence.unseen.noContact,
                                evidence.unseen.sold, evidence.unseen.doNotCall, evidence.unseen.beforeEnd};
        for (int i = 0; i < 6; ++i)
            row.parts.push_back({parts[i] / 1000, i});
        if (evidence.completeness)
            row.figure = group.tipping && group.tipping->share
                             ? Words::tr("%1, tips at %2")
                                   .arg(shareText(*evidence.completeness), shareText(*group.tipping->share))
                             : shareText(*evidence.completeness);
        figure.jobs[row.id] = jobsBehind(group, GroupFigure::Known, view);
        bars.rows.push_back(std::move(row));
    }
    figure.chart = std::move(bars);
    page.figures.push_back(std::move(figure));
    page.lead = groupEvidence(view.all, view);
    page.closing =
        Words::tr(
            "The figure at a bar is the share that is known. Calls to make, at the Counter, are ranked "
            "by how much they would sharpen it. Grouped as the curves are. \u201cTips at\u201d: what may be "
            "said of "
            "the group in round tenths at %1 falls when this share of its unchecked repairs has failed right "
            "after the last good news.")
            .arg(distanceText(view.mark, unit));
    return page;
}

OwnerPageData quotesPage(const core::Result<core::QuoteCheck>& checked) {
    if (!checked)
        return onlyReason(checked.error());
    const core::QuoteCheck& check = *checked;
    OwnerPageData page;
    if (check.given == 0) {
        page.lead = Words::tr(
            "No quote has been kept yet. The Counter keeps one when its page is printed or saved, its "
            "sentence copied, or by Keep.");
        return page;
    }
    const QString comparable = count(check.all ? check.all->quotes : 0);
    page.lead =
        check.given == 1
            ? Words::tr("1 quote is kept; %1 can be compared.").arg(comparable)
            : Words::tr("%1 quotes are kept; %2 can be compared.").arg(count(check.given), comparable);
    if (check.waiting > 0)
        page.lead +=
            QChar(u' ') + Words::tr("%1 wait for their repair, or for news of it.").arg(count(check.waiting));
    if (check.noEstimate > 0)
        page.lead += QChar(u' ') + (check.limits && check.limits->quotes < check.noEstimate
                                        ? Words::tr("%1 gave no chance; %2 of them a lower limit.")
                                              .arg(count(check.noEstimate), count(check.limits->quotes))
                                        : Words::tr("%1 gave a limit only.").arg(count(check.noEstimate)));
    if (check.repeated > 0)
        page.lead +=
            QChar(u' ') + Words::tr("%1 were given again before the repair.").arg(count(check.repeated));
    // Without a range that was watched as far as was quoted there is nothing to draw, and nothing agrees.
    const bool anySeen = std::any_of(check.bins.begin(), check.bins.end(),
                                     [](const core::QuoteBin& bin) { return bin.lower.has_value(); });
    const bool limitsSeen = check.limits && check.limits->lower;
    if (!anySeen && !limitsSeen) {
        if (!check.bins.empty() || check.limits)
            page.lead +=
                QChar(u' ') + Words::tr("Too few of these were watched as far as was quoted, so nothing is "
                                        "compared yet.");
        return page;
    }
    OwnerFigure figure;
    figure.title = Words::tr("Still quiet at the distance that was quoted");
    ForestData data;
    data.percent = true;
    data.logarithmic = false;
    data.reference = anySeen ? check.all->quoted : check.limits->quoted;
    data.estimateName = Words::tr("seen (95 %)");
    data.axisName =
        Words::tr("share still quiet at the distance quoted; the line: what was quoted on average");
    QStringList off;
    const auto add = [&](const core::QuoteBin& bin, const QString& name, bool summary) {
        ForestRow row;
        row.id = name;
        row.name = name;
        row.counts = (bin.isLimit ? Words::tr("%1, told at least %2") : Words::tr("%1, told %2"))
                         .arg(count(bin.quotes), shareText(bin.quoted));
        row.estimate = bin.observed;
        row.lower = bin.lower;
        row.upper = bin.upper;
        row.weight = bin.quotes;
        row.summary = summary;
        row.why = bin.lower && bin.upper ? limitsText(bin.lower, bin.upper) : Words::tr("too few to say");
        if (bin.held() == std::optional(false))
            off << (bin.isLimit ? Words::tr("%1: quoted at least %2, seen %3")
                                : Words::tr("%1: quoted %2, seen %3"))
                       .arg(name, shareText(bin.quoted), limitsText(bin.lower, bin.upper));
        figure.jobs[row.id] = {bin.jobs, Words::tr("%1: %2 quotes").arg(name, count(bin.quotes))};
        data.rows.push_back(std::move(row));
    };
    for (const core::QuoteBin& bin : check.bins)
        add(bin, Words::tr("quoted %1 to %2").arg(shareText(bin.from), shareText(bin.to)), false);
    if (check.all)
        add(*check.all, Words::tr("all with a chance"), true);
    if (check.limits)
        add(*check.limits, Words::tr("limits only"), false);
    page.lead +=
        QChar(u' ') +
        (off.isEmpty() && !anySeen ? Words::tr("The limits that were told agree with what was seen; of the "
                                               "chances too few were watched so far to say.")
         : off.isEmpty()           ? Words::tr("What was seen agrees with what was quoted, as far as can be "
                                                         "told.")
                                   : Words::tr("Off: %1.").arg(off.join(QStringLiteral("; "))));
    figure.chart = std::move(data);
    page.figures.push_back(std::move(figure));
    page.closing = Words::tr(
        "Each repair counts as far as it was watched, up to the distance that its quote spoke of (product "
        "limit, exact limits); the last quote before a repair counts. A range is off when what was quoted "
        "and "
        "what was seen differ by more than chance explains in both, as a quote is itself an estimate from "
        "few "
        "repairs. Where too little was known for a chance, the lower limits told are set against what was "
        "seen.");
    return page;
}

std::chrono::year_month reportMonth(core::Date today, int choice) {
    return std::chrono::year_month(today.year(), today.month()) - std::chrono::months(choice + 1);
}

OwnerPageData reportPage(core::Date today) {
    OwnerPageData page;
    page.lead = Words::tr(
        "The month on paper: what was delivered, what came back and what it cost, how long each path "
        "lasts, and how complete the evidence is.");
    for (int back = 0; back < kMonths; ++back) {
        const auto month = reportMonth(today, back);
        page.choices << QLocale().toString(
            QDate(static_cast<int>(month.year()), static_cast<int>(static_cast<unsigned>(month.month())), 1),
            QStringLiteral("MMMM yyyy"));
    }
    page.action = Words::tr("Save the &report as a PDF \u2026");
    return page;
}

} // namespace milehold::ui
