// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/charts/curve_words.h"

#include "ui/charts/curve_chart.h"
#include "ui/widgets/text.h"
#include "ui/words/limits.h"

namespace milehold::ui {

QString chartWords(ChartWord word) {
    switch (word) {
    case ChartWord::MilesSince:
        return CurveChart::tr("Miles since the repair");
    case ChartWord::KilometresSince:
        return CurveChart::tr("Kilometres since the repair");
    case ChartWord::Watched:
        return CurveChart::tr("Still watched");
    case ChartWord::Projection:
        return CurveChart::tr("projection");
    case ChartWord::StillQuiet:
        break;
    }
    return CurveChart::tr("Still quiet");
}

double unitFactor(core::DistanceUnit from, core::DistanceUnit to) {
    constexpr auto kLength = core::Distance::miles(1'000); // whole metres, so nothing is rounded
    return from == to ? 1 : kLength.in(to) / kLength.in(from);
}

QString keyWords(const CurveSeries& series, core::DistanceUnit dataUnit, core::DistanceUnit shown) {
    const QString lives = series.lives == 1 ? CurveChart::tr("1 repair")
                                            : CurveChart::tr("%1 repairs").arg(countText(series.lives));
    const QString back = series.comebacks == 0
                             ? CurveChart::tr("none came back")
                             : CurveChart::tr("%1 came back").arg(countText(series.comebacks));
    if (series.median)
        return CurveChart::tr("%1, %2, half by %3")
            .arg(lives, back, distanceText(*series.median * unitFactor(dataUnit, shown), shown));
    return series.comebacks > 0 ? CurveChart::tr("%1, %2, half not reached").arg(lives, back)
                                : CurveChart::tr("%1, %2").arg(lives, back);
}

QString shortKeyWords(const CurveSeries& series) {
    return CurveChart::tr("%1 of %2 came back").arg(countText(series.comebacks), countText(series.lives));
}

QString readingWords(const CurveReading& reading) {
    const QString share = shareText(reading.survival);
    if (!reading.lower || !reading.upper)
        return share;
    // The sign once, after the upper one.
    QString low = lowerShareText(*reading.lower);
    low.chop(2);
    return CurveChart::tr("%1 (%2 to %3)").arg(share, low, upperShareText(*reading.upper));
}

QString spokenCurves(const CurveData& data, core::DistanceUnit shown) {
    QStringList sentences;
    const double factor = unitFactor(data.unit, shown);
    for (const CurveSeries& series : data.series) {
        const QString counts = keyWords(series, data.unit, shown);
        const double end = faintFrom(series, data.fewerThan);
        const auto reading = readAt(series, end, data.fewerThan);
        sentences << (reading && end > 0 ? CurveChart::tr("%1: %2; at %3 %4 still quiet.")
                                               .arg(series.name, counts, distanceText(end * factor, shown),
                                                    readingWords(*reading))
                                         : CurveChart::tr("%1: %2.").arg(series.name, counts));
    }
    return sentences.join(u' ');
}

ChartTable curveTable(const CurveData& data, const std::vector<double>& marks, core::DistanceUnit shown) {
    ChartTable table;
    table.header << CurveChart::tr("Series") << CurveChart::tr("At") << CurveChart::tr("Still watched")
                 << CurveChart::tr("Still quiet") << CurveChart::tr("At least") << CurveChart::tr("At most");
    const double factor = unitFactor(data.unit, shown);
    for (const CurveSeries& series : data.series) {
        for (const double mark : marks) {
            const auto reading = readAt(series, mark / factor, data.fewerThan);
            if (!reading)
                continue;
            table.rows << QStringList{series.name,
                                      distanceText(mark, shown),
                                      countText(reading->watched),
                                      shareText(reading->survival),
                                      reading->lower ? lowerShareText(*reading->lower) : QString(),
                                      reading->upper ? upperShareText(*reading->upper) : QString()};
        }
    }
    return table;
}

} // namespace milehold::ui
