// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/gallery/pages.h"
#include "ui/charts/bar_chart.h"
#include "ui/charts/curve_chart.h"
#include "ui/charts/forest_plot.h"
#include "ui/charts/funnel_chart.h"
#include "ui/charts/odometer_line.h"
#include "ui/shell/main_window.h"
#include "ui/shell/message_bar.h"
#include "ui/theme/theme.h"
#include "ui/widgets/card.h"
#include "ui/widgets/engine_plan.h"
#include "ui/widgets/record_table.h"
#include "ui/widgets/roles.h"
#include "ui/widgets/search_box.h"
#include "ui/widgets/status.h"
#include "ui/widgets/text.h"

#include <QHBoxLayout>
#include <QHeaderView>
#include <QLabel>
#include <QPushButton>
#include <QStandardItemModel>
#include <QVBoxLayout>

#include <cmath>

namespace milehold::gallery {

using namespace ui;

namespace {

QStandardItemModel* inventedJobs(QObject* parent) {
    auto* model = new QStandardItemModel(0, 7, parent);
    model->setHorizontalHeaderLabels(
        {"Delivered", "Repair order", "Vehicle", "Path", "Phasers", "Known", "Life"});
    const QStringList vehicles = {"Brannik Corrie 2.4 V6, 2019", "Ostrel Vantor 1.8, 2016",
                                  "Tamsen Halvard 3.0 V6, 2021"};
    const QStringList paths = {"Phasers with chain set", "Calibration alone", "Oil control valves"};
    for (int i = 0; i < 40; ++i) {
        QList<QStandardItem*> row;
        const auto add = [&row](const QString& text, const QVariant& sort,
                                Qt::Alignment alignment = Qt::AlignLeft | Qt::AlignVCenter) {
            auto* item = new QStandardItem(text);
            item->setData(sort, kSortRole);
            item->setTextAlignment(alignment);
            item->setEditable(false);
            row << item;
            return item;
        };
        const QDate date = QDate(2031, 4, 9).addDays(-9 * i);
        add(dateText(toDate(date)), date);
        add(QString::number(20417 - 7 * i), 20417 - 7 * i, Qt::AlignRight | Qt::AlignVCenter);
        add(vehicles[i % 3], vehicles[i % 3]);
        add(paths[(i * 2) % 3], paths[(i * 2) % 3]);
        EngineBadge badge;
        badge.banks = i % 3 == 1 ? 1 : 2;
        using core::CamRole;
        badge.positions = {{1, CamRole::Intake}, {1, CamRole::Exhaust}};
        if (badge.banks == 2)
            badge.positions.insert(badge.positions.end(), {{2, CamRole::Intake}, {2, CamRole::Exhaust}});
        badge.states[{1, CamRole::Intake}] = {PhaserWork::Replaced, i % 5 == 0, {}};
        if (i % 2 == 0)
            badge.states[{1, CamRole::Exhaust}] = {PhaserWork::Reused, false, {}};
        if (badge.banks == 2 && i % 4 == 0)
            badge.states[{2, CamRole::Intake}] = {PhaserWork::Replaced, false, {}};
        add(describe(badge), i)->setData(QVariant::fromValue(badge), kBadgeRole);
        const int known = (i * 7919) % 118'111;
        add(distanceText(core::Distance::miles(known), core::DistanceUnit::Miles), known,
            Qt::AlignRight | Qt::AlignVCenter);
        const Status status = statusOf(static_cast<core::LifeState>(i % 5));
        add(status.word, status.word)->setData(QVariant::fromValue(status), kStatusRole);
        model->appendRow(row);
    }
    model->setHeaderData(1, Qt::Horizontal, int(Qt::AlignRight | Qt::AlignVCenter), Qt::TextAlignmentRole);
    model->setHeaderData(5, Qt::Horizontal, int(Qt::AlignRight | Qt::AlignVCenter), Qt::TextAlignmentRole);
    return model;
}

RecordTable* inventedTable(QWidget* parent) {
    auto* table = new RecordTable(parent);
    table->setRecords(inventedJobs(table));
    table->setItemDelegateForColumn(4, new EngineBadgeDelegate(table));
    table->setItemDelegateForColumn(6, new StatusDelegate(table));
    const QList<int> widths = {120, 112, 232, 200, 96, 116, 150};
    for (int i = 0; i < widths.size(); ++i)
        table->setColumnWidth(i, widths[i]);
    table->sortByColumn(0, Qt::DescendingOrder);
    return table;
}

} // namespace

QWidget* tablePage() {
    auto* page = new QWidget;
    auto* stack = new QVBoxLayout(page);
    stack->setContentsMargins(kMargin, kMargin, kMargin, kMargin);
    stack->setSpacing(kGap);
    auto* title = new QLabel("Jobs");
    theme::setText(title, TextRole::Title);
    stack->addWidget(title);
    auto* table = inventedTable(page);
    table->setObjectName("focusHere");
    stack->addWidget(table, 1);
    table->selectRow(2);
    auto* empty = new RecordTable(page);
    auto* none = new QStandardItemModel(0, 3, empty);
    none->setHorizontalHeaderLabels({"Vehicle", "Customer", "Call about"});
    empty->setRecords(none);
    empty->setEmptyText(
        "Nobody to call today. The list fills as repairs grow older than their last known quiet odometer.");
    empty->setFixedHeight(120);
    stack->addWidget(empty);
    return page;
}

QWidget* curvePage(int series, bool wide) {
    auto* card = new Card(wide ? "How long each repair path lasts" : QString());
    auto* chart = new CurveChart;
    CurveData data = inventedCurves(series);
    if (series == 1 && !data.series.empty()) {
        CurveSeries& s = data.series.front();
        CurveProjection projection;
        for (int i = 0; i <= 20; ++i) {
            const double miles = s.longestWatched + i * 2'500.0;
            const double start = s.survival.back();
            projection.miles.push_back(miles);
            projection.survival.push_back(start * std::exp(-i * 0.02));
            projection.lower.push_back(start * std::exp(-i * 0.05) * 0.88);
            projection.upper.push_back(std::min(1.0, start * std::exp(-i * 0.008) * 1.05));
        }
        s.projection = projection;
    }
    chart->setData(std::move(data));
    if (wide)
        chart->setMark(24'000, "Warranty, 24,000 mi");
    card->body()->addWidget(chart, 1);
    if (series == 3 && wide) {
        chart->resize(1100, 560);
        chart->setReadout(52'000);
        chart->setObjectName("focusHere");
    }
    return card;
}

namespace {

QWidget* forestSample() {
    auto* forest = new ForestPlot;
    ForestData f;
    f.estimateName = "Times as likely (95 %)";
    f.axisName = "Comeback, compared with phasers with chain set";
    f.lowSide = "fewer comebacks";
    f.highSide = "more";
    f.rows = {{"h1", "Repair path", {}, {}, {}, {}, 1, {}, true, false},
              {"1", "Phasers only", "21 of 86", 2.1, 1.2, 3.7, 86, {}, false, false},
              {"2", "Calibration alone", "19 of 41", 5.4, 2.9, 10.1, 41, {}, false, false},
              {"3", "Oil control valves", "17 of 63", 2.9, 1.6, 5.4, 63, {}, false, false},
              {"4", "Tensioner only", "0 of 9", {}, {}, {}, 9, "no comeback", false, false},
              {"h2", "Model years", {}, {}, {}, {}, 1, {}, true, false},
              {"5", "2012 to 2015", "14 of 51", 1.3, 0.7, 2.4, 51, {}, false, false},
              {"6", "2020 and later", "2 of 12", 0.8, 0.02, {}, 12, {}, false, false},
              {"7", "All together", "64 of 342", 1.5, 1.1, 2.0, 342, {}, false, true}};
    forest->setData(f);
    return forest;
}

QWidget* funnelSample() {
    auto* funnel = new FunnelChart;
    FunnelData n;
    n.centre = 0.14;
    n.centreName = "all 14 %";
    n.sizeName = "Finished jobs";
    n.valueName = "Came back within 24,000 mi";
    for (const auto& [name, z] : {std::pair{"95 %", 1.96}, std::pair{"99.8 %", 3.09}}) {
        FunnelLimit limit;
        limit.name = name;
        for (int s = 4; s <= 130; s += 2) {
            const double half = z * std::sqrt(0.14 * 0.86 / s);
            limit.size.push_back(s);
            limit.lower.push_back(std::max(0.0, 0.14 - half));
            limit.upper.push_back(std::min(1.0, 0.14 + half));
        }
        n.limits.push_back(limit);
    }
    n.points = {{"a", "Ilse Marten", 118, 0.11, false},
                {"b", "Jory Pell", 74, 0.16, false},
                {"c", "Odo Brandt", 96, 0.29, true},
                {"d", "Sanne Ruhl", 33, 0.09, false},
                {"e", "Apprentices", 12, 0.25, false}};
    funnel->setData(n);
    return funnel;
}

QWidget* costsSample() {
    auto* bars = new BarChart;
    BarData b;
    b.partNames = {"Parts", "Workmanship", "Diagnosis", "Oil and maintenance"};
    b.axisName = "Dollars this year";
    b.rows = {
        {"1", "Phasers with chain set", {{4200, 0}, {1800, 1}, {300, 2}}, {}, {}, "$6,300", false},
        {"2", "Calibration alone", {{200, 0}, {400, 1}, {3900, 2}, {1200, 3}}, {}, {}, "$5,700", true},
        {"3", "Nockenwellenverstellersteuerventilaustausch", {{900, 0}, {1100, 3}}, {}, {}, "$2,000", false},
        {"4", "Phasers only", {{7100, 0}, {950, 1}}, {}, {}, "$8,050", true}};
    bars->setData(b);
    return bars;
}

QWidget* ratesSample() {
    auto* rates = new BarChart;
    BarData r;
    r.percent = true;
    r.axisName = "Came back";
    r.mark = 0.14;
    r.markName = "all 14 %";
    r.rows = {{"1", "Revision A", {{0.24, 0}}, 0.16, 0.34, "24 %", true},
              {"2", "Revision B", {{0.12, 0}}, 0.07, 0.19, "12 %", false},
              {"3", "Revision C", {{0.0, 0}}, 0.0, 0.11, "0 %", false}};
    rates->setData(r);
    return rates;
}

QWidget* odometerSample() {
    auto* line = new OdometerLine;
    const auto day = [](int y, unsigned m) {
        return core::Date{std::chrono::year(y), std::chrono::month(m), std::chrono::day(3)};
    };
    using core::Distance;
    line->setReadings(
        {{"1", day(2025, 2), Distance::miles(61'200), ReadingMark::Plain, false, "Oil change"},
         {"2", day(2026, 5), Distance::miles(78'900), ReadingMark::Repair, false, "Phasers only"},
         {"3", day(2027, 1), Distance::miles(88'000), ReadingMark::Quiet, false, "Call: quiet"},
         {"4", day(2028, 6), Distance::miles(104'000), ReadingMark::NoiseBack, false, "Noise is back"},
         {"5", day(2028, 8), Distance::miles(105'300), ReadingMark::Repair, false, "Phasers with chain set"},
         {"6", day(2031, 3), Distance::miles(139'400), ReadingMark::Quiet, false, "Visit: quiet"}},
        core::DistanceUnit::Miles);
    return line;
}

} // namespace

QWidget* chartsPage() {
    auto* page = new QWidget;
    auto* grid = new QGridLayout(page);
    grid->setContentsMargins(kMargin, kMargin, kMargin, kMargin);
    grid->setSpacing(kGap);
    auto* one = new Card("What goes with comebacks");
    one->body()->addWidget(forestSample());
    grid->addWidget(one, 0, 0);
    auto* two = new Card("Technicians, with the limits of chance");
    two->body()->addWidget(funnelSample(), 1);
    grid->addWidget(two, 0, 1);
    auto* three = new Card("What comebacks cost, by cause");
    three->body()->addWidget(costsSample());
    grid->addWidget(three, 1, 0);
    auto* four = new Card("By part revision");
    four->body()->addWidget(ratesSample());
    four->body()->addWidget(odometerSample());
    grid->addWidget(four, 1, 1);
    grid->setRowStretch(0, 1);
    return page;
}

QWidget* windowPage() {
    auto* window = new MainWindow;
    window->setShopName("Harrow Lane Engines");
    window->setPeople({"Ilse Marten", "Jory Pell", "Odo Brandt"}, "Ilse Marten");
    window->setScheme(theme::scheme());
    window->setUndoText("job 1204");
    window->setBackupText("Backup 12 minutes ago");
    window->setNote("Job 1204 saved");
    window->setWork({{1, "Drawing curves", 0.62, true}});
    const auto page = [](QWidget* inner) {
        auto* room = new QWidget;
        auto* stack = new QVBoxLayout(room);
        stack->setContentsMargins(kMargin, kGap, kMargin, kGap);
        stack->addWidget(inner);
        return room;
    };
    auto* office = new QWidget;
    auto* stack = new QVBoxLayout(office);
    stack->setContentsMargins(kMargin, kGap, kMargin, kGap);
    stack->setSpacing(12);
    auto* head = new QHBoxLayout;
    auto* title = new QLabel("How long repairs last");
    theme::setText(title, TextRole::Title);
    head->addWidget(title);
    head->addStretch(1);
    stack->addLayout(head);
    auto* card = new Card;
    auto* chart = new CurveChart;
    chart->setData(inventedCurves(4));
    card->body()->addWidget(chart, 1);
    stack->addWidget(card, 1);
    window->addRoom("bay", "Bay", "bay", page(inventedTable(window)));
    window->addRoom("counter", "Counter", "counter", new QWidget);
    window->addRoom("office", "Office", "office", office);
    window->addRoom("shelf", "Shelf", "shelf", new QWidget);
    window->setRoomCount("counter", 7);
    window->setRoomCount("shelf", 112);
    window->showRoom("office");
    window->messages()->show({"stale",
                              MessageBar::Kind::NeedsYou,
                              "Three facts on the shelf should have been checked by 1 April.",
                              {"Show them"},
                              true});
    return window;
}

} // namespace milehold::gallery
