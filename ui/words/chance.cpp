// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/words/chance.h"

#include "core/quote/words.h"
#include "ui/widgets/text.h"
#include "ui/words/amounts.h"

#include <QCoreApplication>

namespace milehold::ui {

namespace {

struct Words {
    Q_DECLARE_TR_FUNCTIONS(Chance)
};

constexpr int kFewLives = 5;

ChanceWords tooFew(const QString& under) {
    return {Words::tr("too few to say"), under, true};
}

/// Few repairs, and what became of them: all failed is not the same as nothing known.
ChanceWords fewRepairs(int lives, int comebacks) {
    if (lives == 0)
        return tooFew(Words::tr("nothing known"));
    const QString back = comebacks == 0       ? Words::tr("none back")
                         : comebacks == lives ? Words::tr("all back")
                                              : Words::tr("%1 back").arg(comebacks);
    return tooFew(Words::tr("%1, %2").arg(repairsText(lives), back));
}

ChanceWords limitsOnly(std::optional<double> lower, std::optional<double> upper, const QString& why) {
    if (!lower && !upper)
        return tooFew(why);
    // With nothing to set against it, an upper limit of 100 % says nothing.
    if (upper && core::percentUp(*upper) >= 100)
        upper.reset();
    return {limitsText(lower, upper), why, true};
}

} // namespace

ChanceWords chanceWords(const core::QuotePoint& point, int lives, int comebacks) {
    if (lives < kFewLives)
        return fewRepairs(lives, comebacks);
    if (point.beyond) {
        if (const auto& model = point.projected)
            return {shareText(model->chance),
                    Words::tr("projection, %1").arg(limitsText(model->lower, model->upper)), true};
        return {QStringLiteral("\u2013"), Words::tr("not watched so far"), true};
    }
    const int watched = static_cast<int>(point.watched);
    QString fewWords =
        watched < kFewLives ? Words::tr("only %1 watched").arg(watched) : Words::tr("too few watched");
    if (point.projected)
        fewWords = Words::tr("projection %1").arg(shareText(point.projected->chance));
    // One rule everywhere: before the first comeback no estimate, but the one-sided limit.
    if (point.atLeast) {
        return {orMoreText(*point.atLeast),
                point.few        ? fewWords
                : comebacks == 0 ? Words::tr("none came back")
                                 : Words::tr("none back by then"),
                true};
    }
    if (point.few || !point.chance)
        return limitsOnly(point.lower, point.upper, fewWords);
    return {shareText(*point.chance), limitsText(point.lower, point.upper), false};
}

ChanceWords chanceAtMark(const OfficeGroup& group) {
    if (group.curve.size() == 0)
        return tooFew(Words::tr("nothing known yet"));
    return chanceWords(group.atMark, group.lives(), group.comebacks());
}

ChanceWords chanceAt(const core::QuotePoint& point, const core::PathQuote& path) {
    if (path.strength == core::QuoteStrength::NoJobs) {
        return {QStringLiteral("\u2013"), Words::tr("no repair yet"), true};
    }
    if (path.strength == core::QuoteStrength::TooFew)
        return fewRepairs(path.lives, path.comebacks);
    return chanceWords(point, path.lives, path.comebacks);
}

ChanceWords medianWords(const OfficeGroup& group, core::DistanceUnit unit) {
    if (group.curve.size() == 0)
        return {QStringLiteral("\u2013"), {}, true};
    const core::CurveQuantile& half = group.median;
    const auto distance = [unit](double miles) { return distanceText(quotedDistance(miles), unit); };
    const auto count = [](double miles) { return countText(quotedDistance(miles)); };
    ChanceWords words;
    // As in a quote: no estimate where fewer than five are watched.
    const bool few =
        group.lives() < kFewLives || (half.miles && group.counts.watchedAt(*half.miles) < kFewLives);
    words.faint = !half.miles || few;
    words.figure = !half.miles ? Words::tr("not reached")
                   : few       ? Words::tr("too few to say")
                               : distance(*half.miles);
    if (half.lower && half.upper) {
        words.under = Words::tr("%1 to %2").arg(count(*half.lower), count(*half.upper));
    } else if (half.lower) {
        words.under = Words::tr("at least %1").arg(count(*half.lower));
    } else {
        words.under = Words::tr("by %1").arg(count(group.curve.longestWatched));
    }
    return words;
}

} // namespace milehold::ui
