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
    QString words = lives + QStringLiteral(", ") + back;
    if (series.median) {
        words += QStringLiteral(", ") +
                 CurveChart::tr("half by %1")
                     .arg(distanceText(*series.median * unitFactor(dataUnit, shown), shown));
    } else if (series.comebacks > 0) {
        words += QStringLiteral(", ") + CurveChart::tr("half not reached");
    }
    return words;
}

QString shortKeyWords(const CurveSeries& series) {
    return CurveChart::tr("%1 of %2 came back").arg(countText(series.comebacks), countText(series.lives));
}

QString readingWords(const CurveReading& reading) {
    QString words = shareText(reading.survival);
    if (reading.lower && reading.upper) {
        // The sign once, after the upper one.
        QString low = lowerShareText(*reading.lower);
        low.chop(2);
        words += CurveChart::tr(" (%1 to %2)").arg(low, upperShareText(*reading.upper));
    }
    return words;
}

QString spokenCurves(const CurveData& data, core::DistanceUnit shown) {
    QStringList sentences;
    const double factor = unitFactor(data.unit, shown);
    for (const CurveSeries& series : data.series) {
        QString sentence = series.name + QStringLiteral(": ") + keyWords(series, data.unit, shown);
        const double end = faintFrom(series, data.fewerThan);
        if (const auto reading = readAt(series, end, data.fewerThan); reading && end > 0) {
            sentence += CurveChart::tr("; at %1 %2 still quiet")
                            .arg(distanceText(end * factor, shown), readingWords(*reading));
        }
        sentences << sentence + u'.';
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
