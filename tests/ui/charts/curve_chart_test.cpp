// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/counts.h"
#include "core/survival/curve.h"
#include "ui/charts/axis.h"
#include "ui/charts/curve_chart.h"
#include "ui/charts/curve_frame.h"
#include "ui/theme/chart_palette.h"
#include "ui/theme/theme.h"

#include <QApplication>
#include <QPainter>
#include <QPdfWriter>
#include <QSignalSpy>
#include <QTemporaryDir>
#include <QTest>

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

using namespace milehold;
using namespace milehold::ui;

namespace {

/// Twenty repairs, half of them back at 40,000 mi, watched to 80,000; limits a tenth either way.
CurveSeries oneStep() {
    CurveSeries s;
    s.id = "one";
    s.name = "Phasers only";
    s.miles = {40'000, 80'000};
    s.survival = {0.5, 0.5};
    s.lower = {0.4, 0.4};
    s.upper = {0.6, 0.6};
    s.watched = {20, 10};
    s.limitsEnd = 2;
    s.limitsBeforeFirst = true;
    s.lowerBeforeFirst = 0.8;
    s.lives = 20;
    s.comebacks = 10;
    s.longestWatched = 80'000;
    return s;
}

struct Shown {
    CurveChart chart;
    explicit Shown(std::vector<CurveSeries> series) {
        CurveData data;
        data.series = std::move(series);
        data.emptyText = "Log a job first";
        chart.setData(std::move(data));
        chart.setKeyShown(false);
        chart.resize(800, 480);
        chart.show();
    }
    QColor at(double miles, double survival, QPoint by = {}) {
        const QImage picture = chart.grab().toImage();
        return picture.pixelColor(chart.pixelOf(miles, survival).toPoint() + by);
    }
    bool isLine(double miles, double survival) {
        const QImage picture = chart.grab().toImage();
        const QPointF p = chart.pixelOf(miles, survival);
        const QColor colour = seriesLook(0, Scheme::Light).colour;
        for (int dx = -1; dx <= 1; ++dx) {
            for (int dy = -1; dy <= 1; ++dy) {
                if (picture.pixelColor(p.toPoint() + QPoint(dx, dy)) == colour)
                    return true;
            }
        }
        return false;
    }
};

bool isNear(const QColor& a, const QColor& b, int tolerance) {
    return std::abs(a.red() - b.red()) <= tolerance && std::abs(a.green() - b.green()) <= tolerance &&
           std::abs(a.blue() - b.blue()) <= tolerance;
}

} // namespace

TEST(CurveSeries, ReadsStepsFromTheRight) {
    const CurveSeries s = oneStep();
    EXPECT_EQ(readAt(s, 0, 5)->survival, 1.0);
    EXPECT_EQ(readAt(s, 39'999, 5)->survival, 1.0);
    EXPECT_EQ(readAt(s, 40'000, 5)->survival, 0.5) << "a comeback at this mileage has happened";
    EXPECT_EQ(readAt(s, 40'000, 5)->watched, 20.0) << "and was watched until then";
    EXPECT_EQ(readAt(s, 40'001, 5)->watched, 10.0);
    EXPECT_EQ(readAt(s, 80'000, 5)->survival, 0.5);
    EXPECT_FALSE(readAt(s, 80'001, 5).has_value()) << "nothing is said past the last watched mile";
    EXPECT_FALSE(readAt(s, -1, 5).has_value());
    EXPECT_EQ(readAt(s, 10, 5)->lower, 0.8);
    EXPECT_EQ(readAt(s, 50'000, 5)->upper, 0.6);
}

TEST(CurveSeries, IsFaintFromWhereFewerThanFiveAreWatched) {
    CurveSeries s = oneStep();
    EXPECT_EQ(faintFrom(s, 5), 80'000);
    s.watched = {20, 4};
    EXPECT_EQ(faintFrom(s, 5), 40'000);
    EXPECT_FALSE(readAt(s, 40'000, 5)->few);
    EXPECT_TRUE(readAt(s, 40'001, 5)->few);
    s.watched = {4, 1};
    EXPECT_EQ(faintFrom(s, 5), 0);
}

// Weeks in remission, 6-MP arm. Source: Freireich et al. 1963, Blood 21:699, as in Kalbfleisch & Prentice
// 2002, ch. 1: 21 patients, 9 relapses, S(10) = 0.7529, median 23.
TEST(CurveSeries, TakesOverCoresCurve) {
    core::Lives lives;
    lives.miles = {6, 6, 6, 6, 7, 9, 10, 10, 11, 13, 16, 17, 19, 20, 22, 23, 25, 32, 32, 34, 35};
    lives.end = {1, 1, 1, 0, 1, 0, 1, 0, 0, 1, 1, 0, 0, 0, 1, 1, 0, 0, 0, 0, 0};
    const auto curve = core::survivalCurve(core::countsOfAll(lives), {});
    ASSERT_TRUE(curve.has_value());
    const CurveSeries s = curveSeries(*curve, "6mp", "6-MP", 0);
    EXPECT_EQ(s.lives, 21);
    EXPECT_EQ(s.comebacks, 9);
    EXPECT_EQ(s.median, 23.0);
    EXPECT_NEAR(readAt(s, 10, 5)->survival, 0.7529, 5e-5);
    EXPECT_EQ(watchedAt(s, 0), 21);
    EXPECT_EQ(watchedAt(s, 10), 15);
    EXPECT_EQ(s.longestWatched, 35);
}

TEST(CurveChart, DrawsTheStepWhereItIs) {
    Shown shown({oneStep()});
    EXPECT_TRUE(shown.isLine(20'000, 1.0));
    EXPECT_TRUE(shown.isLine(40'000, 0.75)) << "the fall is upright, at its mileage";
    EXPECT_TRUE(shown.isLine(60'000, 0.5));
    EXPECT_FALSE(shown.isLine(20'000, 0.5));
    EXPECT_FALSE(shown.isLine(60'000, 1.0));
    EXPECT_FALSE(shown.isLine(50'000, 0.75)) << "no slope between steps";
}

TEST(CurveChart, DrawsTheLimitsAsABand) {
    Shown shown({oneStep()});
    const QColor ground = tokensFor(Scheme::Light).paper;
    const QColor band = shown.at(60'000, 0.57);
    EXPECT_FALSE(isNear(band, ground, 3));
    EXPECT_TRUE(isNear(shown.at(60'000, 0.43), band, 2));
    EXPECT_TRUE(isNear(shown.at(60'000, 0.67), ground, 2)) << "above the band";
    EXPECT_TRUE(isNear(shown.at(60'000, 0.33), ground, 2)) << "below it";
    EXPECT_TRUE(isNear(shown.at(20'000, 0.9), band, 2)) << "before the first step";
}

TEST(CurveChart, DrawsNothingPastTheLastWatchedMile) {
    CurveSeries shorter = oneStep();
    shorter.miles = {10'000, 30'000};
    shorter.longestWatched = 30'000;
    shorter.name.clear();
    CurveSeries longer = oneStep();
    longer.look = 1;
    longer.name.clear();
    Shown both({shorter, longer});
    EXPECT_TRUE(both.isLine(29'000, 0.5));
    for (double miles = 31'000; miles < 80'000; miles += 3'000)
        EXPECT_FALSE(both.isLine(miles, 0.5)) << miles;
}

TEST(CurveChart, GoesFaintWhereFewAreWatched) {
    CurveSeries s = oneStep();
    s.watched = {20, 4};
    Shown shown({s});
    EXPECT_TRUE(shown.isLine(20'000, 1.0));
    EXPECT_FALSE(shown.isLine(60'000, 0.5)) << "not in full strength";
    const Tokens t = tokensFor(Scheme::Light);
    EXPECT_FALSE(isNear(shown.at(60'000, 0.5), t.paper, 12)) << "but it is there";
}

TEST(CurveChart, KeepsNotANumberOutOfTheDrawing) {
    CurveSeries s = oneStep();
    s.lower = {std::numeric_limits<double>::quiet_NaN(), 0.4};
    s.upper = {std::numeric_limits<double>::infinity(), 0.6};
    s.limitsBegin = 1;
    s.limitsBeforeFirst = false;
    Shown shown({s});
    EXPECT_TRUE(shown.isLine(60'000, 0.5));
    const ChartTable table = shown.chart.asTable();
    EXPECT_FALSE(table.toText().contains("nan", Qt::CaseInsensitive));
    EXPECT_FALSE(table.toText().contains("inf", Qt::CaseInsensitive));
    EXPECT_TRUE(std::isfinite(shown.chart.pixelOf(0, 1).x()));
}

TEST(CurveFrame, BreaksANameInTwoWhereThereIsNoRoomForOneLine) {
    CurveData data;
    data.series = {oneStep(), oneStep()};
    data.series[0].name = "All phasers, newest revision";
    data.series[1].name = "Phasers with chain set";
    data.series[1].survival = {0.9, 0.8};
    const CurveFrame frame(data, CurveView{}, QRectF(0, 0, 560, 460), false);
    ASSERT_EQ(frame.labels.size(), 2U);
    for (const auto& label : frame.labels) {
        const auto& series = data.series[static_cast<std::size_t>(label.series)];
        EXPECT_EQ(label.lines.size(), 2) << series.name.toStdString();
        EXPECT_EQ(label.lines.join(QChar(u' ')), series.name) << "whole, and nothing cut";
        EXPECT_LE(label.rect.right(), 560);
    }
    EXPECT_FALSE(frame.labels[0].rect.intersects(frame.labels[1].rect));
    // One line where there is room for it, or no place to break.
    data.series[0].name = "Phasers alone";
    const CurveFrame wide(data, CurveView{}, QRectF(0, 0, 1100, 460), false);
    ASSERT_FALSE(wide.labels.empty());
    for (const auto& label : wide.labels)
        EXPECT_EQ(label.lines.size(), 1) << label.lines.join(QChar(u'/')).toStdString();
    data.series[0].name = "Phasersallfournewestrevisionever";
    const CurveFrame odd(data, CurveView{}, QRectF(0, 0, 560, 460), false);
    for (const auto& label : odd.labels) {
        if (label.series == 0) {
            EXPECT_EQ(label.lines.size(), 1);
        }
    }
}

TEST(CurveChart, ReadsAllLinesByKeys) {
    Shown shown({oneStep()});
    shown.chart.setFocus();
    QTest::keyClick(&shown.chart, Qt::Key_Right);
    EXPECT_EQ(shown.chart.readout(), 0.0);
    QTest::keyClick(&shown.chart, Qt::Key_Right);
    EXPECT_EQ(shown.chart.readout(), 1'000.0);
    QTest::keyClick(&shown.chart, Qt::Key_Right, Qt::ShiftModifier);
    EXPECT_EQ(shown.chart.readout(), 10'000.0) << "big steps lie on round distances";
    QTest::keyClick(&shown.chart, Qt::Key_End);
    EXPECT_EQ(shown.chart.readout(), 80'000.0);
    QTest::keyClick(&shown.chart, Qt::Key_Escape);
    EXPECT_EQ(shown.chart.readout(), std::nullopt);
}

TEST(CurveChart, StepsInTheUnitThatIsShown) {
    Shown shown({oneStep()});
    shown.chart.setUnit(core::DistanceUnit::Kilometres);
    QTest::keyClick(&shown.chart, Qt::Key_Right);
    QTest::keyClick(&shown.chart, Qt::Key_Right);
    ASSERT_TRUE(shown.chart.readout().has_value());
    EXPECT_NEAR(*shown.chart.readout() * 1.609344, 1'000.0, 1e-9);
    const ChartTable table = shown.chart.asTable();
    ASSERT_FALSE(table.rows.isEmpty());
    for (const QStringList& row : table.rows)
        EXPECT_TRUE(row[1].endsWith("km")) << row[1].toStdString();
}

TEST(CurveChart, OpensTheJobsBehindALineByClickAndByKey) {
    CurveSeries other = oneStep();
    other.id = "two";
    other.look = 1;
    other.survival = {0.9, 0.9};
    Shown shown({oneStep(), other});
    QSignalSpy clicked(&shown.chart, &CurveChart::seriesClicked);
    QTest::mouseClick(&shown.chart, Qt::LeftButton, {}, shown.chart.pixelOf(60'000, 0.9).toPoint());
    ASSERT_EQ(clicked.count(), 1);
    EXPECT_EQ(clicked.first()[0].toString(), "two");
    EXPECT_NEAR(clicked.first()[1].toDouble(), 60'000, 200);
    QTest::mouseClick(&shown.chart, Qt::LeftButton, {}, shown.chart.pixelOf(60'000, 0.2).toPoint());
    EXPECT_EQ(clicked.count(), 1) << "no line is near";
    QTest::keyClick(&shown.chart, Qt::Key_Escape);
    QTest::keyClick(&shown.chart, Qt::Key_Down);
    QTest::keyClick(&shown.chart, Qt::Key_Return);
    ASSERT_EQ(clicked.count(), 2);
    EXPECT_EQ(clicked.last()[0].toString(), "one");
}

TEST(CurveChart, SaysInWordsAndInATableWhatItShows) {
    Shown shown({oneStep()});
    EXPECT_TRUE(shown.chart.accessibleDescription().contains("20 repairs, 10 came back"))
        << shown.chart.accessibleDescription().toStdString();
    const ChartTable table = shown.chart.asTable();
    ASSERT_GE(table.rows.size(), 4);
    EXPECT_EQ(table.rows.first()[1], QString("0") + QChar(0x00A0) + "mi");
    EXPECT_EQ(table.rows.first()[2], "20");
    for (const QStringList& row : table.rows) {
        if (row[1] == QString("60,000") + QChar(0x00A0) + "mi") {
            EXPECT_EQ(row[3], QString("50") + QChar(0x00A0) + "%");
        }
    }
}

TEST(CurveChart, FollowsTheThemeAndPaintsAnEmptyShopsWord) {
    Shown shown({});
    EXPECT_FALSE(shown.chart.grab().isNull());
    EXPECT_EQ(shown.chart.accessibleDescription(), "Log a job first");
    CurveData data;
    data.series = {oneStep()};
    shown.chart.setData(data);
    theme::apply(*qApp, Scheme::Dark);
    const QImage picture = shown.chart.grab().toImage();
    const QColor dark = seriesLook(0, Scheme::Dark).colour;
    bool found = false;
    const QPoint p = shown.chart.pixelOf(60'000, 0.5).toPoint();
    for (int dy = -1; dy <= 1; ++dy)
        found = found || picture.pixelColor(p + QPoint(0, dy)) == dark;
    theme::apply(*qApp, Scheme::Light);
    EXPECT_TRUE(found);
}

TEST(CurveChart, PaintsAMillionStepsWithoutChokingOnTheBand) {
    CurveSeries s;
    s.id = "many";
    const std::size_t n = 1'000'000;
    const auto column = [](auto valueOf) {
        std::vector<double> values(n);
        for (std::size_t i = 0; i < n; ++i)
            values[i] = valueOf(double(i) / double(n));
        return values;
    };
    s.miles = column([](double x) { return x * 200'000; });
    s.survival = column([](double x) { return 1 - 0.8 * x; });
    s.lower = column([](double x) { return 0.95 - 0.8 * x; });
    s.upper = column([](double x) { return 1.05 - 0.8 * x; });
    s.watched = column([](double x) { return double(n) * (1 - x); });
    s.limitsEnd = n;
    s.longestWatched = 200'000;
    Shown shown({s});
    EXPECT_TRUE(shown.isLine(100'000, 0.6));
    EXPECT_FALSE(isNear(shown.at(100'000, 0.63), tokensFor(Scheme::Light).paper, 3));
}

TEST(CurveChart, GoesIntoAPdfAsLinesAndText) {
    const QTemporaryDir folder;
    const QString path = folder.filePath("curve.pdf");
    {
        QPdfWriter writer(path);
        writer.setResolution(1200);
        QPainter painter(&writer);
        painter.scale(1200 / 96.0, 1200 / 96.0);
        CurveChart chart;
        CurveData data;
        data.series = {oneStep()};
        chart.setData(std::move(data));
        chart.paintVector(painter, QRectF(0, 0, 600, 400));
    }
    QFile file(path);
    ASSERT_TRUE(file.open(QIODevice::ReadOnly));
    const QByteArray pdf = file.readAll();
    EXPECT_TRUE(pdf.startsWith("%PDF"));
    EXPECT_FALSE(pdf.contains("/Subtype /Image")) << "a picture would print as a blur";
    EXPECT_GT(pdf.size(), 4'000);
}

TEST(Axis, TicksAreRoundAndFew) {
    EXPECT_EQ(niceTicks(0, 110'000, 7), (std::vector<double>{0, 20'000, 40'000, 60'000, 80'000, 100'000}));
    EXPECT_EQ(niceTicks(0, 1, 3), (std::vector<double>{0, 0.5, 1}));
    EXPECT_TRUE(niceTicks(5, 5, 4).empty());
    EXPECT_TRUE(niceTicks(0, std::numeric_limits<double>::quiet_NaN(), 4).empty());
    EXPECT_TRUE(niceTicks(0, std::numeric_limits<double>::infinity(), 4).empty());
    for (double to = 0.003; to < 2e7; to *= 1.7) {
        const auto ticks = niceTicks(0, to, 8);
        EXPECT_GE(ticks.size(), 2U) << to;
        EXPECT_LE(ticks.size(), 9U) << to;
        EXPECT_LE(ticks.back(), to * (1 + 1e-9));
    }
    EXPECT_EQ(logTicks(0.08, 12, 4), (std::vector<double>{0.1, 1, 10}));
    EXPECT_TRUE(logTicks(0, 10, 4).empty());
}

TEST(Axis, MapsThereAndBack) {
    const Axis straight{0, 100, 50, 250, false};
    EXPECT_DOUBLE_EQ(straight.at(25), 100);
    EXPECT_DOUBLE_EQ(straight.valueAt(100), 25);
    const Axis log{0.1, 10, 0, 200, true};
    EXPECT_NEAR(log.at(1), 100, 1e-9);
    EXPECT_NEAR(log.valueAt(100), 1, 1e-12);
}
