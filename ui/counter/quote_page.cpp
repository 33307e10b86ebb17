// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/counter/quote_page.h"

#include "core/shop/warranty_words.h"
#include "ui/charts/curve_chart.h"
#include "ui/counter/vehicle_words.h"
#include "ui/widgets/text.h"
#include "ui/words/amounts.h"
#include "ui/words/chance.h"

#include <QCoreApplication>
#include <QPainter>

#include <algorithm>
#include <cmath>
#include <memory>

namespace milehold::ui {

namespace {

struct Words {
    Q_DECLARE_TR_FUNCTIONS(QuotePage)
};

constexpr double kMarginPoints = 42;
constexpr double kFootPoints = 26;
constexpr double kLowestChart = 88;
constexpr double kHighestChart = 230;
constexpr double kHighChart = 165;
constexpr double kChartScale = 0.72; // the chart's letters are made for a screen

const PageText kBodyText{10, false, kPaperInk, Qt::AlignLeft};
const PageText kStrongText{10, true, kPaperInk, Qt::AlignLeft};
const PageText kSmallText{8, false, kPaperSoft, Qt::AlignLeft};
const PageText kDetailText{9, false, kPaperSoft, Qt::AlignLeft};
const PageText kLeadText{11, false, kPaperInk, Qt::AlignLeft};
const PageText kTitleText{18, true, kPaperInk, Qt::AlignLeft};

PageText toRight(PageText style) {
    style.side = Qt::AlignRight;
    return style;
}

const core::PathQuote* chosenPath(const QuotePageContent& content) {
    const auto place = static_cast<std::size_t>(std::max(0, content.chosen));
    return place < content.quote.paths.size() ? &content.quote.paths[place] : nullptr;
}

QString warrantyText(const core::ShopSettings& settings) {
    const core::DistanceUnit unit = settings.unit;
    QString terms;
    const QString words = toText(settings.warrantyTerms);
    if (core::saysItsTerms(settings))
        return Words::tr("The shop's warranty: %1").arg(words);
    if (settings.warrantyMonths && settings.warrantyDistance) {
        terms = Words::tr("The shop's warranty: %1 months or %2, whichever comes first.")
                    .arg(*settings.warrantyMonths)
                    .arg(distanceText(*settings.warrantyDistance, unit));
    } else if (settings.warrantyMonths) {
        terms = Words::tr("The shop's warranty: %1 months.").arg(*settings.warrantyMonths);
    } else if (settings.warrantyDistance) {
        terms = Words::tr("The shop's warranty: %1.").arg(distanceText(*settings.warrantyDistance, unit));
    } else {
        return words.isEmpty() ? Words::tr("Ask the shop for its warranty terms.")
                               : Words::tr("The shop's warranty: %1").arg(words);
    }
    return words.isEmpty() ? terms : terms + QChar(u' ') + words;
}

QString yearlyText(const core::YearlyDistance& yearly, core::DistanceUnit unit) {
    const QString rounded = distanceText(std::round(yearly.perYear.in(unit) / 100) * 100, unit);
    if (yearly.source == core::YearlySource::Readings && yearly.readings > 0)
        return Words::tr("about %1 a year, from its odometer readings").arg(rounded);
    return yearly.source == core::YearlySource::Told ? Words::tr("%1 a year, as you told us").arg(rounded)
                                                     : Words::tr("reckoned with %1 a year").arg(rounded);
}

/// What the path costs for the quiet distance that may be expected of it; blank where that cannot be said.
QString costLine(const core::PathQuote& path, core::DistanceUnit unit, const std::string& currency) {
    if (!path.cost || !path.cost->each)
        return {};
    return Words::tr("about %1 for each 1,000 quiet %2 (%3 to %4)")
        .arg(roundPriceText(*path.cost->each, currency), unitWord(unit),
             roundPriceText(path.cost->eachLower, currency), roundPriceText(path.cost->eachUpper, currency));
}

QString restsOn(const core::PathQuote& path) {
    if (path.strength == core::QuoteStrength::NoJobs)
        return Words::tr("no repair yet");
    if (path.lives == 0 && path.notFollowed > 0)
        return Words::tr("%1, nothing known since").arg(repairsText(static_cast<int>(path.notFollowed)));
    return Words::tr("%1, %2").arg(repairsText(path.lives), cameBackText(path.comebacks));
}

} // namespace

QuotePage::QuotePage(const QuotePageContent& content, QPageSize::PageSizeId paper)
    : paper_(paper), size_(QPageSize(paper).size(QPageSize::Point)),
      flow_(size_, kMarginPoints, kFootPoints) {
    addHead(content);
    addVehicle(content);
    addSentence(content);
    addOptions(content);
    addChart(content);
    addEvidence(flow_, content);
    addNotes(flow_, content);
    addFoot(content);
}

void QuotePage::addHead(const QuotePageContent& content) {
    const QString shop =
        content.settings.name.empty() ? Words::tr("Repair life") : toText(content.settings.name);
    const QString date = dateText(content.quote.options.dataDate);
    flow_.add(26, [shop, date](QPainter& painter, const QRectF& rect) {
        PageFlow::drawLine(painter, rect.adjusted(0, 0, -150, 0), shop, kTitleText);
        PageFlow::drawLine(painter, rect.adjusted(rect.width() - 150, 8, 0, 0), date, toRight(kBodyText));
    });
    flow_.rule(1.2, kPaperInk);
    flow_.space(12);
}

void QuotePage::addVehicle(const QuotePageContent& content) {
    const core::DistanceUnit unit = content.quote.options.unit;
    QString title;
    QStringList detail;
    if (content.vehicle.vehicle) {
        title = vehicleTitle(*content.vehicle.vehicle);
        const VehicleFound& found = *content.vehicle.vehicle;
        if (!found.customer.empty())
            detail << toText(found.customer);
        if (!found.plate.empty())
            detail << toText(found.plate);
        if (!found.vin.empty())
            detail << toText(found.vin);
    } else {
        title = content.vehicle.modelYear
                    ? Words::tr("A vehicle of model year %1").arg(QString::number(*content.vehicle.modelYear))
                    : Words::tr("A vehicle like this one");
    }
    if (!content.engine.empty())
        detail << Words::tr("engine %1").arg(toText(content.engine));
    detail << yearlyText(content.quote.subject.yearly, unit);
    flow_.add(15, [title](QPainter& painter, const QRectF& rect) {
        PageFlow::drawLine(painter, rect, Words::tr("How long will the repair last? %1").arg(title),
                           kStrongText);
    });
    flow_.addText(detail.join(QStringLiteral(" \u00b7 ")), PageText{9, false, kPaperSoft, Qt::AlignLeft});
    flow_.space(12);
}

void QuotePage::addSentence(const QuotePageContent& content) {
    const core::PathQuote* path = chosenPath(content);
    if (!path) {
        flow_.addText(content.quote.note.empty()
                          ? Words::tr("No repair path on the shelf applies to this vehicle.")
                          : toText(content.quote.note),
                      kLeadText);
        flow_.space(12);
        return;
    }
    const QString name = toText(path->name);
    const QString price =
        path->price.minor > 0 ? moneyText(path->price, toText(content.settings.currency)) : QString();
    // What is said aloud at the counter first; what it rests on in small.
    const QString sentence = withLocalDates(toText(path->spoken));
    const QString details = withLocalDates(toText(path->details));
    const double inset = 12;
    const double width = flow_.width() - inset;
    const double nameHeight = PageFlow::textHeight(name, width - 110, kStrongText);
    const double sentenceHeight = PageFlow::textHeight(sentence, width, kLeadText);
    const double detailHeight = details.isEmpty() ? 0 : PageFlow::textHeight(details, width, kDetailText) + 4;
    const double height = nameHeight + 4 + sentenceHeight + detailHeight;
    flow_.add(height, [=](QPainter& painter, const QRectF& rect) {
        painter.fillRect(QRectF(rect.left(), rect.top() + 1, 3, rect.height() - 2), kPaperInk);
        const QRectF text = rect.adjusted(inset, 0, 0, 0);
        PageFlow::drawText(painter, text.adjusted(0, 0, -110, 0), name, kStrongText);
        PageFlow::drawLine(painter, text.adjusted(text.width() - 105, 0, 0, 0), price, toRight(kStrongText));
        PageFlow::drawText(painter, text.adjusted(0, nameHeight + 4, 0, 0), sentence, kLeadText);
        if (!details.isEmpty())
            PageFlow::drawText(painter, text.adjusted(0, nameHeight + 8 + sentenceHeight, 0, 0), details,
                               kDetailText);
    });
    flow_.space(10);
}

void QuotePage::addOptions(const QuotePageContent& content) {
    if (content.quote.paths.empty())
        return;
    const std::string currency = content.settings.currency;
    const auto& points = content.quote.paths.front().byYear;
    const double each = 80;
    const double left = flow_.width() - each * static_cast<double>(points.size());
    const core::DistanceUnit unit = content.quote.options.unit;

    flow_.add(26, [=](QPainter& painter, const QRectF& rect) {
        PageFlow::drawLine(painter, QRectF(rect.left(), rect.top(), left, 12), Words::tr("The options"),
                           kStrongText);
        PageFlow::drawLine(painter, QRectF(rect.left(), rect.top() + 13, left, 10),
                           Words::tr("chance of being quiet after"), kSmallText);
        for (std::size_t i = 0; i < points.size(); ++i) {
            const QRectF cell(rect.left() + left + each * static_cast<double>(i), rect.top(), each, 12);
            const QString years =
                points[i].years == 1 ? Words::tr("1 year") : Words::tr("%1 years").arg(points[i].years);
            PageFlow::drawLine(painter, cell, years, toRight(kStrongText));
            PageFlow::drawLine(painter, cell.translated(0, 13),
                               distanceText(static_cast<double>(points[i].at), unit), toRight(kSmallText));
        }
    });
    flow_.rule(0.6, kPaperInk);
    for (std::size_t row = 0; row < content.quote.paths.size(); ++row) {
        const core::PathQuote path = content.quote.paths[row];
        const bool chosen = static_cast<int>(row) == content.chosen;
        const PageText nameStyle = chosen ? kStrongText : kBodyText;
        const double nameWidth = left - 20; // right of the bar that marks the chosen path
        const QString name = toText(path.name);
        const double nameHeight = PageFlow::textHeight(name, nameWidth, nameStyle);
        const QString price =
            path.price.minor > 0 ? moneyText(path.price, toText(currency)) : Words::tr("price on request");
        QString under = Words::tr("%1 \u00b7 %2").arg(price, restsOn(path));
        if (const QString cost = costLine(path, unit, currency); !cost.isEmpty())
            under += QChar(u'\n') + cost;
        const double underHeight = PageFlow::textHeight(under, nameWidth, kSmallText);
        const double height = std::max(nameHeight + underHeight + 9, 34.0);
        flow_.add(height, [=](QPainter& painter, const QRectF& rect) {
            if (chosen)
                painter.fillRect(QRectF(rect.left(), rect.top() + 4, 3, rect.height() - 8), kPaperInk);
            const double inset = 8;
            PageFlow::drawText(painter, QRectF(rect.left() + inset, rect.top() + 4, nameWidth, nameHeight),
                               name, nameStyle);
            PageFlow::drawText(
                painter, QRectF(rect.left() + inset, rect.top() + 5 + nameHeight, nameWidth, underHeight),
                under, kSmallText);
            for (std::size_t i = 0; i < path.byYear.size(); ++i) {
                const ChanceWords words = chanceAt(path.byYear[i], path);
                const QRectF cell(rect.left() + left + each * static_cast<double>(i) + 3, rect.top() + 4,
                                  each - 3, 14);
                const PageText figure = words.faint ? PageText{9, false, kPaperSoft, Qt::AlignRight}
                                                    : PageText{12, true, kPaperInk, Qt::AlignRight};
                PageFlow::drawLine(painter, cell.translated(0, words.faint ? 2 : 0), words.figure, figure);
                PageFlow::drawLine(painter, cell.translated(0, 15), words.under, toRight(kSmallText));
            }
            painter.fillRect(QRectF(rect.left(), rect.bottom() - 0.5, rect.width(), 0.5), kPaperLine);
        });
    }
    flow_.space(4);
    QString legend = Words::tr(
        "The two figures under a chance are its 95 % limits; \u201cor more\u201d is all that can be "
        "said where nothing had come back by then, or too few were followed so far.");
    const auto& paths = content.quote.paths;
    const auto costed = std::find_if(paths.begin(), paths.end(),
                                     [](const auto& path) { return path.cost && path.cost->each; });
    if (costed != paths.end())
        legend += QChar(u' ') + Words::tr("Cost counts the quiet %1 expected within the first %2 only.")
                                    .arg(unitWord(unit), distanceText(costed->cost->within, unit));
    if (content.quote.options.project)
        legend += QChar(u' ') + Words::tr("A projection is a model's word about what was not watched.");
    flow_.addText(legend, kSmallText);
    flow_.space(8);
}

void QuotePage::addChart(const QuotePageContent& content) {
    const core::PathQuote* path = chosenPath(content);
    if (!path || path->curve.size() == 0)
        return;
    // As high as leaves room for the notes on this sheet.
    PageFlow notes(size_, kMarginPoints, kFootPoints);
    const double whole = notes.room();
    addEvidence(notes, content);
    addNotes(notes, content);
    const double noteHeight = notes.pageCount() == 1 ? whole - notes.room() : 0;
    const double height = std::clamp(flow_.room() - noteHeight - 32, kLowestChart, kHighestChart);

    CurveData curves;
    curves.unit = content.quote.options.unit;
    curves.level = content.quote.options.level;
    CurveSeries series = curveSeries(path->curve, QString(), toText(path->name), 0);
    series.median = path->median;
    if (const auto& on = path->projection)
        series.projection = CurveProjection{on->miles, on->survival, on->lower, on->upper};
    curves.series.push_back(std::move(series));
    auto chart = std::make_shared<CurveChart>();
    chart->setUnit(curves.unit);
    chart->setKeyShown(false);
    chart->setWatchedShown(height >= kHighChart); // the curve before its table, where there is little room
    chart->setData(std::move(curves));
    chart->setMark(static_cast<double>(path->horizon.at),
                   distanceText(static_cast<double>(path->horizon.at), content.quote.options.unit));
    flow_.add(height + 18, [name = toText(path->name), chart,
                            unit = content.quote.options.unit](QPainter& painter, const QRectF& rect) {
        PageFlow::drawLine(painter, QRectF(rect.left(), rect.top(), rect.width(), 13),
                           Words::tr("Still quiet, by %1 since the repair: %2").arg(unitWord(unit), name),
                           kStrongText);
        painter.translate(rect.left(), rect.top() + 18);
        painter.scale(kChartScale, kChartScale);
        chart->paintVector(painter,
                           QRectF(0, 0, rect.width() / kChartScale, (rect.height() - 18) / kChartScale));
    });
    flow_.space(8);
}

void QuotePage::addEvidence(PageFlow& flow, const QuotePageContent& content) const {
    const core::PathQuote* path = chosenPath(content);
    const std::string line = path ? core::evidenceLine(path->evidenceFacts) : std::string();
    if (line.empty())
        return;
    flow.addText(Words::tr("How well this is known"), kStrongText);
    flow.space(2);
    flow.addText(toText(line), PageText{8, false, kPaperInk, Qt::AlignLeft});
    flow.space(8);
}

void QuotePage::addNotes(PageFlow& flow, const QuotePageContent& content) const {
    const core::PathQuote* path = chosenPath(content);
    flow.addText(Words::tr("Expected life, not a warranty"), kStrongText);
    flow.space(2);
    flow.addText(
        Words::tr("The figures say how repairs of this kind have lasted in this shop so far. They do not "
                  "promise how long this one will last."),
        PageText{9, false, kPaperInk, Qt::AlignLeft});
    flow.space(2);
    flow.addText(warrantyText(content.settings), PageText{9, false, kPaperInk, Qt::AlignLeft});
    if (!path || path->cautions.empty())
        return;
    flow.space(10);
    flow.addText(Words::tr("What the shop takes care of on this repair"), kStrongText);
    flow.space(2);
    for (const std::string& caution : path->cautions) {
        flow.addText(QStringLiteral("\u2013 ") + toText(caution),
                     PageText{9, false, kPaperInk, Qt::AlignLeft});
        flow.space(1);
    }
}

void QuotePage::addFoot(const QuotePageContent& content) {
    int repairs = 0;
    for (const core::PathQuote& path : content.quote.paths)
        repairs += path.lives;
    const QString source = Words::tr("From %1 in this shop's own records up to %2.")
                               .arg(repairs == 1 ? Words::tr("1 finished repair")
                                                 : Words::tr("%1 finished repairs").arg(countText(repairs)),
                                    dateText(content.quote.options.dataDate));
    flow_.setFoot([source](QPainter& painter, const QRectF& rect, int page, int pages) {
        painter.fillRect(QRectF(rect.left(), rect.top() + 8, rect.width(), 0.5), kPaperLine);
        const QRectF line = rect.adjusted(0, 13, 0, 0);
        PageFlow::drawLine(painter, line.adjusted(0, 0, -80, 0), source, kSmallText);
        if (pages > 1) {
            PageFlow::drawLine(painter, line.adjusted(line.width() - 75, 0, 0, 0),
                               Words::tr("page %1 of %2").arg(page).arg(pages), toRight(kSmallText));
        }
    });
}

} // namespace milehold::ui
