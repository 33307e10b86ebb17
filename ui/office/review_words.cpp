// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/office/review_words.h"

#include "core/quote/words.h"
#include "ui/office/figure_jobs.h"
#include "ui/widgets/text.h"
#include "ui/words/amounts.h"

#include <QCoreApplication>
#include <QLocale>
#include <QStringList>

#include <cmath>

namespace milehold::ui {

namespace {

struct Words {
    Q_DECLARE_TR_FUNCTIONS(ReviewWords)
};

QString distance(double count, core::DistanceUnit unit) {
    return distanceText(quotedDistance(count), unit);
}

QString points(double share) {
    return QString::number(std::lround(std::abs(share) * 100));
}

QString pText(double p) {
    return p < 0.001 ? Words::tr("p below 0.001")
                     : Words::tr("p = %1").arg(QLocale().toString(p, 'f', p < 0.1 ? 3 : 2));
}

/// What the p of a comparison means, in words that need no statistics.
QString byChance(double p) {
    if (p < 0.001)
        return Words::tr("less than once in 1,000 times");
    return p < 0.0095 ? Words::tr("about %1 in 1,000 times").arg(std::lround(p * 1000))
                      : Words::tr("about %1 in 100 times").arg(std::lround(p * 100));
}

QString wholeWatch(const OfficeComparison& two) {
    const QString words =
        two.permutation
            ? Words::tr(
                  "Over the whole watch chance alone would do as much %1 (log\u2011rank by permutation, "
                  "%2).")
            : Words::tr("Over the whole watch chance alone would do as much %1 (log\u2011rank, %2).");
    return words.arg(byChance(*two.p), pText(*two.p));
}

QString nameOr(const std::string& name) {
    return name.empty() ? Words::tr("not recorded") : toText(name);
}

} // namespace

QString evidenceWords(const OfficeView& view) {
    const OfficeGroup& all = view.all;
    if (all.lives() == 0)
        return {};
    const core::DistanceUnit unit = view.query.unit;
    QStringList parts;
    parts << Words::tr("%1 known quiet or back").arg(distance(all.evidence.known, unit));
    if (all.evidence.unseen.all() > 0)
        parts << Words::tr("%1 driven since that nobody has checked")
                     .arg(distance(all.evidence.unseen.all(), unit));
    QString line = parts.join(QStringLiteral(", "));
    if (all.evidence.completeness)
        line = Words::tr("Followed: %1 of all that was driven (%2).")
                   .arg(shareText(*all.evidence.completeness), line);
    if (all.lost() > 0) {
        QStringList reasons;
        if (all.evidence.noContact > 0)
            reasons << Words::tr("%1 without contact")
                           .arg(countText(static_cast<double>(all.evidence.noContact)));
        if (all.evidence.sold > 0)
            reasons << Words::tr("%1 sold").arg(countText(static_cast<double>(all.evidence.sold)));
        if (all.evidence.doNotCall > 0)
            reasons << Words::tr("%1 not to be called")
                           .arg(countText(static_cast<double>(all.evidence.doNotCall)));
        line +=
            QChar(u' ') +
            Words::tr("Lost sight of %1: %2.").arg(countText(all.lost()), reasons.join(QStringLiteral(", ")));
    }
    return line;
}

QString groupEvidence(const OfficeGroup& group, const OfficeView& view) {
    core::EvidenceFacts facts;
    facts.unit = view.query.unit;
    facts.evidence = group.evidence;
    facts.horizon = view.mark;
    if (!group.atMark.few && !group.atMark.beyond)
        facts.readings = group.readings;
    facts.claim = group.claim;
    facts.tipping = group.tipping;
    return toText(core::evidenceLine(facts));
}

QString readingsWords(const OfficeGroup& group, const OfficeView& view) {
    const QString line = groupEvidence(group, view);
    return line.isEmpty() ? line : Words::tr("%1: %2").arg(groupName(group), line);
}

QString cautionWords(const OfficeView& view) {
    QStringList lines;
    if (view.query.reading == core::Reading::Best) {
        lines << Words::tr("Best reading: every unseen mile is taken as quiet.");
    } else if (view.query.reading == core::Reading::Worst) {
        lines << Words::tr(
            "Worst reading: every vehicle that nobody has checked is taken to have failed right after it "
            "was last known quiet.");
    }
    if (view.passedOver == 1)
        lines << Words::tr("In all groups together one repair more is recorded; nothing is known of it past "
                           "its first visit.");
    if (view.passedOver > 1) {
        lines << Words::tr(
                     "In all groups together %1 repairs more are recorded; nothing is known of them past "
                     "their first visit.")
                     .arg(countText(view.passedOver));
    }
    return lines.join(QChar(u' '));
}

QString comparisonWords(const OfficeView& view) {
    if (!view.comparison)
        return {};
    const OfficeComparison& two = *view.comparison;
    const core::DistanceUnit unit = view.query.unit;
    const QString first = nameOr(two.first);
    const QString second = nameOr(two.second);
    const QString mark = distanceText(view.mark, unit);
    const QString few = Words::tr("Too few comebacks to tell the two apart.");
    if (two.beyond || !two.difference) {
        const QString start = Words::tr("Not both are watched as far as %1.").arg(mark);
        return two.tooFew ? start + QChar(u' ') + few : start;
    }
    for (const OfficeGroup& group : view.groups) {
        // A chance that is not shown by itself is no part of a difference, either.
        if ((group.name != two.first && group.name != two.second) || !group.atMark.few)
            continue;
        const QString start = Words::tr("Too few of %1 are watched at %2 for a difference there.")
                                  .arg(nameOr(group.name), mark);
        return start + QChar(u' ') + (two.tooFew || !two.p ? few : wholeWatch(two));
    }
    QString sentence =
        std::lround(*two.difference * 100) == 0 ? Words::tr("At %1 no difference shows").arg(mark)
        : *two.difference > 0 ? Words::tr("At %1, %2 more in 100 are still quiet after %3 than after %4")
                                    .arg(mark, points(*two.difference), first, second)
                              : Words::tr("At %1, %2 fewer in 100 are still quiet after %3 than after %4")
                                    .arg(mark, points(*two.difference), first, second);
    if (two.lower && two.upper) {
        const auto signedPoints = [](long value) {
            return (value < 0   ? QStringLiteral("\u2212")
                    : value > 0 ? QStringLiteral("+")
                                : QString()) +
                   QString::number(std::abs(value));
        };
        sentence = Words::tr("%1; 95 % limits %2 to %3")
                       .arg(sentence, signedPoints(core::percentDown(*two.lower)),
                            signedPoints(core::percentUp(*two.upper)));
    }
    if (view.query.reading == core::Reading::Best)
        sentence = Words::tr("Unseen miles taken as quiet: %1").arg(sentence);
    if (view.query.reading == core::Reading::Worst)
        sentence = Words::tr("Unseen miles taken as failed: %1").arg(sentence);
    sentence += QChar(u'.');
    if (two.tooFew)
        return sentence + QChar(u' ') + few;
    return two.p ? sentence + QChar(u' ') + wholeWatch(two) : sentence;
}

} // namespace milehold::ui
