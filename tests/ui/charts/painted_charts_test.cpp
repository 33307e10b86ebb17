// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/charts/bar_chart.h"
#include "ui/charts/forest_plot.h"
#include "ui/charts/funnel_chart.h"
#include "ui/charts/odometer_line.h"
#include "ui/theme/theme.h"

#include <QPainter>
#include <QSignalSpy>
#include <QTest>

#include <gtest/gtest.h>

#include <limits>

using namespace milehold;
using namespace milehold::ui;

namespace {

core::Date day(int y, unsigned m, unsigned d) {
    return {std::chrono::year(y), std::chrono::month(m), std::chrono::day(d)};
}

ForestData twoGroups() {
    ForestData data;
    data.estimateName = "Times as likely";
    data.rows = {{"h", "Path", {}, {}, {}, {}, 1, {}, true, false},
                 {"a", "Phasers only", "21 of 86", 2.1, 1.2, 3.7, 86, {}, false, false},
                 {"b", "Tensioner only", "0 of 9", {}, {}, {}, 9, "no comeback", false, false},
                 {"c", "Late years", "2 of 12", 0.8, 0.02, {}, 12, {}, false, false}};
    return data;
}

} // namespace

TEST(ForestPlot, SaysWhatCannotBeEstimated) {
    ForestPlot plot;
    plot.setData(twoGroups());
    const ChartTable table = plot.asTable();
    ASSERT_EQ(table.rows.size(), 3) << "a heading is no row";
    EXPECT_EQ(table.rows[0], (QStringList{"Phasers only", "21 of 86", "2.10 (1.20 to 3.70)"}));
    EXPECT_EQ(table.rows[1][2], "no comeback");
    EXPECT_EQ(table.rows[2][2], "0.80 (0.02 to …)");
    EXPECT_TRUE(plot.accessibleDescription().contains("Phasers only: 2.10"));
}

TEST(ForestPlot, OpensTheRecordsBehindARow) {
    ForestPlot plot;
    plot.setData(twoGroups());
    plot.resize(plot.sizeHint());
    plot.show();
    QSignalSpy clicked(&plot, &PaintedChart::markClicked);
    // Rows are 28 high below a head of 26, inside a margin of 6.
    QTest::mouseClick(&plot, Qt::LeftButton, {}, QPoint(100, 6 + 26 + 28 + 14));
    ASSERT_EQ(clicked.count(), 1);
    EXPECT_EQ(clicked.first().first().toString(), "a");
    QTest::mouseClick(&plot, Qt::LeftButton, {}, QPoint(100, 6 + 26 + 14));
    EXPECT_EQ(clicked.count(), 1) << "a heading opens nothing";
    plot.setFocus(Qt::TabFocusReason);
    QTest::keyClick(&plot, Qt::Key_End);
    QTest::keyClick(&plot, Qt::Key_Return);
    EXPECT_EQ(clicked.last().first().toString(), "c");
}

TEST(ForestPlot, PaintsExtremeNumbersWithoutHarm) {
    ForestData data = twoGroups();
    data.rows.push_back({"d", "Wild", "1 of 2", 1e-9, 0.0, 1e300, 1, {}, false, false});
    data.rows.push_back(
        {"e", "Endless", "1 of 2", 3.0, 1.0, std::numeric_limits<double>::infinity(), 0, {}, false, true});
    ForestPlot plot;
    plot.setData(data);
    plot.resize(400, 300);
    EXPECT_FALSE(plot.grab().isNull());
    data.rows.clear();
    plot.setEmptyText("Nothing to compare yet");
    plot.setData(data);
    EXPECT_EQ(plot.accessibleDescription(), "Nothing to compare yet");
    EXPECT_FALSE(plot.grab().isNull());
}

TEST(FunnelChart, MarksWhatLiesOutsideByWordToo) {
    FunnelChart chart;
    FunnelData data;
    data.sizeName = "Jobs";
    data.valueName = "Came back";
    data.centre = 0.14;
    data.limits = {{"95 %", {10, 50, 100}, {0, 0.05, 0.08}, {0.4, 0.25, 0.2}}};
    data.points = {{"a", "Ilse", 90, 0.12, false}, {"b", "Odo", 60, 0.4, true}};
    chart.setData(data);
    chart.resize(500, 320);
    chart.show();
    EXPECT_TRUE(chart.accessibleDescription().contains("Odo: 40"));
    EXPECT_TRUE(chart.accessibleDescription().contains("outside the limits"));
    EXPECT_EQ(chart.asTable().rows[1][3], "yes");
    QSignalSpy clicked(&chart, &PaintedChart::markClicked);
    chart.activateWindow();
    ASSERT_TRUE(QTest::qWaitForWindowActive(&chart));
    chart.clearFocus();
    chart.setFocus(Qt::TabFocusReason);
    EXPECT_EQ(chart.current(), 0) << "arriving by key shows where one is";
    QTest::keyClick(&chart, Qt::Key_Right);
    QTest::keyClick(&chart, Qt::Key_Return);
    ASSERT_EQ(clicked.count(), 1);
    EXPECT_EQ(clicked.first().first().toString(), "b");
}

TEST(BarChart, DrawsABarAsLongAsItsValue) {
    BarChart chart;
    BarData data;
    data.most = 100;
    data.rows = {{"a", "A", {{100, 0}}, {}, {}, "100", false},
                 {"b", "B", {{50, 0}}, {}, {}, "50", false},
                 {"c", "C", {{0, 0}}, {}, {}, "0", false}};
    chart.setData(data);
    chart.resize(500, 160);
    const QImage picture = chart.grab().toImage();
    const QColor fill("#12505C");
    const auto length = [&](int row) {
        int count = 0;
        const int y = 6 + 4 + 30 * row + 15;
        for (int x = 0; x < picture.width(); ++x)
            count += picture.pixelColor(x, y) == fill;
        return count;
    };
    EXPECT_GT(length(0), 300);
    EXPECT_NEAR(length(1) * 2, length(0), 3);
    EXPECT_EQ(length(2), 0);
}

TEST(BarChart, KeepsItsPartsInTheTable) {
    BarChart chart;
    BarData data;
    data.partNames = {"Parts", "Workmanship"};
    data.axisName = "Dollars";
    data.rows = {{"a", "Phasers only", {{700, 0}, {95, 1}}, {}, {}, "$795", true}};
    chart.setData(data);
    EXPECT_EQ(chart.asTable().header, (QStringList{"Name", "Parts", "Workmanship", "Dollars"}));
    EXPECT_EQ(chart.asTable().rows.first(), (QStringList{"Phasers only", "700", "95", "$795"}));
    EXPECT_TRUE(chart.accessibleDescription().contains("needs you"));
}

TEST(OdometerLine, PaintsOneReadingAndABrokenLine) {
    OdometerLine line;
    line.setEmptyText("No odometer yet");
    line.setReadings({}, core::DistanceUnit::Miles);
    EXPECT_FALSE(line.grab().isNull());
    line.setReadings(
        {{"a", day(2031, 4, 9), core::Distance::miles(61'200), ReadingMark::Plain, false, "Visit"}},
        core::DistanceUnit::Miles);
    line.resize(320, 96);
    EXPECT_FALSE(line.grab().isNull());
    line.setReadings(
        {{"a", day(2030, 4, 9), core::Distance::miles(161'200), ReadingMark::Repair, false, "Phasers"},
         {"b", day(2031, 4, 9), core::Distance::miles(900), ReadingMark::Quiet, true, "New instrument"}},
        core::DistanceUnit::Kilometres);
    const ChartTable table = line.asTable();
    ASSERT_EQ(table.rows.size(), 2);
    EXPECT_EQ(table.rows[0][1], QString("259,426") + QChar(0x00A0) + "km");
    EXPECT_FALSE(line.grab().isNull());
}
