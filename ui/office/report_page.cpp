// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/office/report_page.h"

#include "ui/charts/curve_chart.h"
#include "ui/office/owner_topics.h"
#include "ui/widgets/text.h"
#include "ui/words/chance.h"
#include "ui/words/labels.h"

#include <QCoreApplication>
#include <QLocale>
#include <QPainter>

#include <algorithm>
#include <cmath>
#include <memory>

namespace milehold::ui {

namespace {

struct Words {
    Q_DECLARE_TR_FUNCTIONS(ReportPage)
};

constexpr double kMarginPoints = 48;
constexpr double kFootPoints = 26;
constexpr double kChartPoints = 270;
constexpr double kTogetherPoints = 70;
constexpr double kChartScale = 0.58;
constexpr std::size_t kMostCurves = 6;
constexpr double kRowPoints = 15;

const PageText kBodyText{9, false, kPaperInk, Qt::AlignLeft};
const PageText kStrongText{10, true, kPaperInk, Qt::AlignLeft};
const PageText kSmallText{8, false, kPaperSoft, Qt::AlignLeft};
const PageText kBigText{20, true, kPaperInk, Qt::AlignLeft};
const PageText kTitleText{18, true, kPaperInk, Qt::AlignLeft};

PageText toRight(PageText style) {
    style.side = Qt::AlignRight;
    return style;
}

QString dash() {
    return QStringLiteral("\u2013");
}

QString shareOrDash(const std::optional<double>& share) {
    return share ? shareText(*share) : dash();
}

QString monthText(std::chrono::year_month month) {
    const QDate first(static_cast<int>(month.year()), static_cast<int>(static_cast<unsigned>(month.month())),
                      1);
    return QLocale().toString(first, QStringLiteral("MMMM yyyy"));
}

/// What may be said of a path at the mark, by the one rule of all places.
QString chanceText(const core::ReportPath& path) {
    const ChanceWords words = chanceWords(path.atMark, path.lives, path.comebacks);
    if (words.faint)
        return path.atMark.beyond && path.lives >= 5 ? words.under : words.figure;
    return Words::tr("%1 (%2)").arg(words.figure, words.under);
}

/// Those that were followed, and how many more were not.
QString repairsCell(const core::ReportPath& path) {
    return path.notFollowed == 0
               ? countText(path.lives)
               : Words::tr("%1 + %2").arg(countText(path.lives), countText(path.notFollowed));
}

struct Column {
    QString title;
    double width;
    bool right;
};

void drawRow(QPainter& painter, const QRectF& rect, const std::vector<Column>& columns,
             const QStringList& cells, const PageText& style) {
    double x = rect.left();
    for (std::size_t i = 0; i < columns.size(); ++i) {
        const QRectF cell(x, rect.top() + 2, columns[i].width - 6, rect.height() - 2);
        PageFlow::drawLine(painter, cell, cells.value(static_cast<int>(i)),
                           columns[i].right ? toRight(style) : style);
        x += columns[i].width;
    }
}

void addTable(PageFlow& flow, const std::vector<Column>& columns, const std::vector<QStringList>& rows) {
    QStringList titles;
    for (const auto& column : columns)
        titles << column.title;
    flow.add(kRowPoints, [columns, titles](QPainter& painter, const QRectF& rect) {
        drawRow(painter, rect, columns, titles, kSmallText);
    });
    flow.rule(0.6, kPaperInk);
    for (const auto& cells : rows)
        flow.add(kRowPoints, [columns, cells](QPainter& painter, const QRectF& rect) {
            drawRow(painter, rect, columns, cells, kBodyText);
            painter.fillRect(QRectF(rect.left(), rect.bottom() - 0.4, rect.width(), 0.4), kPaperLine);
        });
}

} // namespace

ReportPage::ReportPage(const ReportPageContent& content, QPageSize::PageSizeId paper)
    : title_(
          Words::tr("%1: %2").arg(toText(content.report.shopName), monthText(content.report.options.month))),
      flow_(QPageSize(paper).size(QPageSize::Point), kMarginPoints, kFootPoints) {
    addHead(content);
    addFigures(content);
    addPaths(content);
    addComebacks(content);
    addCosts(content);
    addClaims(content);
    addStale(content);
    addFoot(content);
}

void ReportPage::addHead(const ReportPageContent& content) {
    const QString shop = toText(content.report.shopName);
    const QString month = monthText(content.report.options.month);
    flow_.add(26, [shop, month](QPainter& painter, const QRectF& rect) {
        PageFlow::drawLine(painter, rect.adjusted(0, 0, -170, 0), shop, kTitleText);
        PageFlow::drawLine(painter, rect.adjusted(rect.width() - 170, 8, 0, 0), month, toRight(kStrongText));
    });
    flow_.rule(1.2, kPaperInk);
    flow_.space(12);
}

void ReportPage::addFigures(const ReportPageContent& content) {
    const auto& report = content.report;
    const QString currency = toText(content.settings.currency);
    const QStringList values{countText(report.delivered),
                             countText(static_cast<double>(report.comebacks.size())),
                             moneyText(report.comebackCost, currency), shareOrDash(report.evidence)};
    const QStringList names{Words::tr("repairs delivered"), Words::tr("came back this month"),
                            Words::tr("what they cost the shop"), Words::tr("of all miles are known")};
    flow_.add(44, [values, names](QPainter& painter, const QRectF& rect) {
        const double each = rect.width() / 4;
        for (int i = 0; i < values.size(); ++i) {
            const QRectF cell(rect.left() + each * i, rect.top(), each - 8, 24);
            PageFlow::drawLine(painter, cell, values[i], kBigText);
            PageFlow::drawLine(painter, cell.translated(0, 27), names[i], kSmallText);
        }
    });
    flow_.space(6);
    flow_.addText(
        Words::tr("All repairs on record: %1 holding, %2 came back, %3 lost sight of, %4 ended otherwise.")
            .arg(report.holding)
            .arg(report.cameBack)
            .arg(report.lostSight)
            .arg(report.endedOtherwise),
        kBodyText);
    flow_.space(14);
}

void ReportPage::addPaths(const ReportPageContent& content) {
    const auto& report = content.report;
    const core::DistanceUnit unit = report.options.unit;
    const QString mark = distanceText(static_cast<double>(report.options.mark), unit);
    flow_.addText(Words::tr("How long each repair path lasts"), kStrongText);
    flow_.space(4);
    if (report.paths.empty()) {
        flow_.addText(Words::tr("No finished repair is recorded yet."), kBodyText);
        return;
    }
    const double rest = flow_.width() - (46 + 52 + 54 + 46 + 92 + 52);
    const std::vector<Column> columns{
        {Words::tr("repair path"), rest, false}, {Words::tr("repairs"), 46, true},
        {Words::tr("came back"), 52, true},      {Words::tr("known %1").arg(unitSign(unit)), 54, true},
        {Words::tr("evidence"), 46, true},       {Words::tr("quiet at %1").arg(mark), 92, true},
        {Words::tr("worst case"), 52, true}};
    std::vector<QStringList> rows;
    for (const auto& path : report.paths)
        rows.push_back({toText(path.name), repairsCell(path), countText(path.comebacks),
                        countText(std::round(path.known)), shareOrDash(path.evidence), chanceText(path),
                        path.tooFew ? dash() : shareOrDash(path.worstAtMark)});
    addTable(flow_, columns, rows);
    flow_.space(4);
    flow_.addText(Words::tr("In brackets the %1 % limits, exact in small samples. The worst case takes every "
                            "mile that nobody "
                            "has checked as a comeback right after the last word: "
                            "an assumption, not a limit, as failing later can weigh more.")
                      .arg(QLocale().toString(report.options.level * 100)),
                  kSmallText);
    if (std::any_of(report.paths.begin(), report.paths.end(),
                    [](const core::ReportPath& path) { return path.notFollowed > 0; }))
        flow_.addText(
            Words::tr("Repairs after a + are not known of since delivery: they are not among the "
                      "others, but their miles count as not known, and as failed in the worst case."),
            kSmallText);
    if (const std::string line = core::evidenceLine(report.facts); !line.empty()) {
        flow_.space(6);
        flow_.addText(Words::tr("How well this is known, all repairs together"), kStrongText);
        flow_.space(2);
        flow_.addText(toText(line), kBodyText);
    }
    flow_.space(10);
    if (content.chart)
        flow_.add(kChartPoints,
                  [chart = content.chart](QPainter& painter, const QRectF& rect) { chart(painter, rect); });
    flow_.space(12);
}

void ReportPage::addComebacks(const ReportPageContent& content) {
    const auto& report = content.report;
    const core::DistanceUnit unit = report.options.unit;
    if (flow_.room() < kTogetherPoints)
        flow_.space(flow_.room()); // a title never stands alone at the foot of a sheet
    flow_.addText(Words::tr("What came back this month"), kStrongText);
    flow_.space(4);
    if (report.comebacks.empty()) {
        flow_.addText(Words::tr("Nothing that the shop has heard of."), kBodyText);
        flow_.space(12);
        return;
    }
    const double rest = flow_.width() - (40 + 110 + 100 + 66);
    const std::vector<Column> columns{{Words::tr("job"), 40, true},
                                      {Words::tr("vehicle"), 110, false},
                                      {Words::tr("path and cause"), rest, false},
                                      {Words::tr("after"), 100, true},
                                      {Words::tr("cost"), 66, true}};
    std::vector<QStringList> rows;
    for (const auto& row : report.comebacks) {
        const QString after = row.until ? Words::tr("%1 to %2")
                                              .arg(countText(std::round(row.distance)),
                                                   distanceText(std::round(*row.until), unit))
                                        : distanceText(std::round(row.distance), unit);
        QString what = toText(row.pathName);
        if (!row.cause.empty())
            what += QStringLiteral(": ") + toText(row.cause);
        rows.push_back({countText(static_cast<double>(row.jobNumber)), toText(row.vehicleLabel), what, after,
                        moneyText(row.cost, toText(content.settings.currency))});
    }
    addTable(flow_, columns, rows);
    flow_.space(12);
}

void ReportPage::addCosts(const ReportPageContent& content) {
    const core::CostSum& costs = content.report.costs;
    if (costs == core::CostSum{})
        return;
    const QString currency = toText(content.settings.currency);
    const core::Money amounts[] = {costs.kinds.labour, costs.kinds.parts,    costs.kinds.rental,
                                   costs.kinds.towing, costs.kinds.goodwill, costs.other};
    QStringList said;
    for (int kind = 0; kind < 6; ++kind)
        if (amounts[kind] != core::Money{})
            said << Words::tr("%1 %2").arg(costKindNames()[kind], moneyText(amounts[kind], currency));
    const QString kinds = said.join(QStringLiteral(", "));
    flow_.addText(
        costs.kinds.credit == core::Money{}
            ? Words::tr("What they cost, by kind: %1.").arg(kinds)
            : Words::tr("What they cost, by kind: %1; %2 was credited, which leaves %3.")
                  .arg(kinds, moneyText(costs.kinds.credit, currency), moneyText(costs.total(), currency)),
        kBodyText);
    flow_.space(12);
}

void ReportPage::addClaims(const ReportPageContent& content) {
    if (content.claims.empty())
        return;
    const QString currency = toText(content.settings.currency);
    const core::Date today = content.report.options.dataDate;
    if (flow_.room() < kTogetherPoints)
        flow_.space(flow_.room());
    flow_.addText(Words::tr("Claims to suppliers"), kStrongText);
    flow_.space(4);
    const double rest = flow_.width() - (40 + 60 + 108 + 60 + 60 + 60);
    const std::vector<Column> columns{{Words::tr("job"), 40, true},        {Words::tr("state"), 60, false},
                                      {Words::tr("deadline"), 108, false}, {Words::tr("number"), 60, false},
                                      {Words::tr("vehicle"), rest, false}, {Words::tr("claimed"), 60, true},
                                      {Words::tr("credited"), 60, true}};
    std::vector<QStringList> rows;
    for (const core::ClaimRow& claim : content.claims)
        rows.push_back(
            {countText(static_cast<double>(claim.jobNumber)), word(claim.state), deadlineText(claim, today),
             toText(claim.number), toText(claim.vehicleLabel),
             claim.claimed ? moneyText(*claim.claimed, currency) : QString(),
             claim.state == core::ClaimState::Credited ? moneyText(claim.credited, currency) : QString()});
    addTable(flow_, columns, rows);
    flow_.space(12);
}

void ReportPage::addStale(const ReportPageContent& content) {
    if (content.report.stale.empty())
        return;
    QStringList facts;
    for (const auto& fact : content.report.stale)
        facts << toText(fact);
    flow_.addText(Words::tr("On the shelf, to be checked again"), kStrongText);
    flow_.space(2);
    flow_.addText(facts.join(QStringLiteral(" \u00b7 ")), kBodyText);
    flow_.space(12);
}

void ReportPage::addFoot(const ReportPageContent& content) {
    const QString source = Words::tr("From this shop's own records up to %1. Expected life, not a warranty.")
                               .arg(dateText(content.report.options.dataDate));
    flow_.setFoot([source](QPainter& painter, const QRectF& rect, int page, int pages) {
        painter.fillRect(QRectF(rect.left(), rect.top() + 8, rect.width(), 0.5), kPaperLine);
        const QRectF line = rect.adjusted(0, 13, 0, 0);
        PageFlow::drawLine(painter, line.adjusted(0, 0, -80, 0), source, kSmallText);
        if (pages > 1)
            PageFlow::drawLine(painter, line.adjusted(line.width() - 75, 0, 0, 0),
                               Words::tr("page %1 of %2").arg(page).arg(pages), toRight(kSmallText));
    });
}

std::function<void(QPainter& painter, const QRectF& rect)> reportChart(const core::OwnersReport& report) {
    CurveData data;
    data.unit = report.options.unit;
    data.level = report.options.level;
    for (const auto& path : report.paths) {
        if (path.curve.size() == 0 || data.series.size() == kMostCurves)
            continue;
        const int look = static_cast<int>(data.series.size());
        auto series = curveSeries(path.curve, QString::number(look), toText(path.name), look);
        series.median = path.median;
        data.series.push_back(std::move(series));
    }
    if (data.series.empty())
        return {};
    auto chart = std::make_shared<CurveChart>();
    chart->setUnit(report.options.unit);
    chart->setKeyShown(false); // the table above names them, the watched table below repeats their lines
    chart->setData(std::move(data));
    return [chart](QPainter& painter, const QRectF& rect) {
        // The chart is laid out in screen pixels; on paper its 12 px text should read as 7 points.
        painter.save();
        painter.translate(rect.topLeft());
        painter.scale(kChartScale, kChartScale);
        chart->paintVector(painter, QRectF(QPointF(0, 0), rect.size() / kChartScale));
        painter.restore();
    };
}

} // namespace milehold::ui
