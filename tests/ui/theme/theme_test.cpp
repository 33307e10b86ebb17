// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/theme/chart_palette.h"
#include "ui/theme/figures.h"
#include "ui/theme/icons.h"
#include "ui/theme/paper_style.h"
#include "ui/theme/theme.h"

#include <QApplication>
#include <QCheckBox>
#include <QLineEdit>
#include <QPainter>
#include <QPushButton>
#include <QTableWidget>

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <string>

using namespace milehold::ui;

namespace {

constexpr std::array kSchemes = {Scheme::Light, Scheme::Dark, Scheme::Print};

/// Puts the light scheme back whatever a test did.
class Theme : public testing::Test {
protected:
    void TearDown() override { theme::apply(*qApp, Scheme::Light); }
};

std::string nameOf(Scheme scheme) {
    return scheme == Scheme::Light ? "light" : scheme == Scheme::Dark ? "dark" : "print";
}

using Rgb = std::array<double, 3>;
using Matrix = std::array<Rgb, 3>;

// Severity 1.0, linear RGB. Source: Machado, Oliveira & Fernandes 2009, "A physiologically-based model for
// simulation of color vision deficiency", IEEE Trans. Vis. Comput. Graph. 15(6):1291, supplementary matrices.
constexpr Matrix kNormal = {{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}};
constexpr Matrix kProtan = {
    {{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}}};
constexpr Matrix kDeutan = {
    {{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}}};
constexpr Matrix kTritan = {
    {{1.255528, -0.076749, -0.178779}, {-0.078411, 0.930809, 0.147602}, {0.004733, 0.691367, 0.303900}}};

double linear(double c) {
    return c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
}

/// CIE L*a*b* (D65) of a colour as it is seen. Source: IEC 61966-2-1 (sRGB), CIE 15:2004.
Rgb labSeen(const QColor& colour, const Matrix& vision) {
    const Rgb rgb = {linear(colour.redF()), linear(colour.greenF()), linear(colour.blueF())};
    Rgb seen{};
    for (std::size_t i = 0; i < 3; ++i) {
        for (std::size_t j = 0; j < 3; ++j)
            seen[i] += vision[i][j] * rgb[j];
        seen[i] = std::clamp(seen[i], 0.0, 1.0);
    }
    const double x = (0.4124564 * seen[0] + 0.3575761 * seen[1] + 0.1804375 * seen[2]) / 0.95047;
    const double y = 0.2126729 * seen[0] + 0.7151522 * seen[1] + 0.0721750 * seen[2];
    const double z = (0.0193339 * seen[0] + 0.1191920 * seen[1] + 0.9503041 * seen[2]) / 1.08883;
    const auto f = [](double t) { return t > 0.008856 ? std::cbrt(t) : 7.787 * t + 16.0 / 116; };
    return {116 * f(y) - 16, 500 * (f(x) - f(y)), 200 * (f(y) - f(z))};
}

double distance(const Rgb& a, const Rgb& b) {
    return std::sqrt(std::pow(a[0] - b[0], 2) + std::pow(a[1] - b[1], 2) + std::pow(a[2] - b[2], 2));
}

} // namespace

// Source: WCAG 2.1, definition of contrast ratio: black on white is 21, a colour on itself 1.
TEST(Contrast, OfBlackOnWhiteIsTwentyOne) {
    EXPECT_NEAR(contrast(Qt::black, Qt::white), 21.0, 1e-9);
    EXPECT_NEAR(contrast(Qt::white, Qt::black), 21.0, 1e-9);
    EXPECT_NEAR(contrast(QColor("#12505C"), QColor("#12505C")), 1.0, 1e-12);
}

// Source: WCAG 2.1 success criterion 1.4.3 (AA): 4.5 for text; 1.4.11: 3 for what shows a control and its
// state.
TEST(Tokens, KeepTextAtFourAndAHalfAndOutlinesAtThree) {
    for (const Scheme scheme : kSchemes) {
        const Tokens t = tokensFor(scheme);
        const auto text = [&](const char* what, const QColor& over, const QColor& ground) {
            EXPECT_GE(contrast(over, ground), 4.5) << nameOf(scheme) << ": " << what;
        };
        for (const QColor& ground : {t.sunken, t.paper, t.surface, t.raised}) {
            text("ink", t.ink, ground);
            text("inkSoft", t.inkSoft, ground);
            text("accentText", t.accentText, ground);
            text("amberText", t.amberText, ground);
            text("dangerText", t.dangerText, ground);
        }
        for (const QColor& ground : {t.accent, t.accentHover, t.accentPressed})
            text("onAccent", t.onAccent, ground);
        text("onAmber", t.onAmber, t.amber);
        text("onDanger", t.onDanger, t.danger);
        text("ink on accentSoft", t.ink, t.accentSoft);
        text("inkSoft on accentSoft", t.inkSoft, t.accentSoft);
        text("accentText on accentSoft", t.accentText, t.accentSoft);
        text("dangerText on accentSoft", t.dangerText, t.accentSoft);
        text("ink on amberSoft", t.ink, t.amberSoft);
        text("amberText on amberSoft", t.amberText, t.amberSoft);
        text("ink on dangerSoft", t.ink, t.dangerSoft);
        text("dangerText on dangerSoft", t.dangerText, t.dangerSoft);
        for (const QColor& ground : {t.paper, t.surface}) {
            EXPECT_GE(contrast(t.outline, ground), 3.0) << nameOf(scheme) << ": outline";
            EXPECT_GE(contrast(t.focus, ground), 3.0) << nameOf(scheme) << ": focus ring";
        }
    }
}

TEST(ChartPalette, StaysApartForEveryColourVision) {
    for (const Scheme scheme : {Scheme::Light, Scheme::Dark}) {
        for (const auto& [name, vision] : {std::pair("normal", kNormal), std::pair("protan", kProtan),
                                           std::pair("deutan", kDeutan), std::pair("tritan", kTritan)}) {
            for (int i = 0; i < kSeriesLooks; ++i) {
                for (int j = 0; j < i; ++j) {
                    const Rgb a = labSeen(seriesLook(i, scheme).colour, vision);
                    const Rgb b = labSeen(seriesLook(j, scheme).colour, vision);
                    // A just noticeable difference is about 2.3 (Mahy, van Eycken & Oosterlinck 1994); ten of
                    // them.
                    EXPECT_GE(distance(a, b), 23.0)
                        << nameOf(scheme) << ", " << name << ": colours " << j << " and " << i;
                }
            }
        }
    }
}

TEST(ChartPalette, StandsOutFromItsGround) {
    for (const Scheme scheme : kSchemes) {
        for (int i = 0; i < kSeriesLooks; ++i) {
            EXPECT_GE(contrast(seriesLook(i, scheme).colour, tokensFor(scheme).surface), 3.0)
                << nameOf(scheme) << ": colour " << i;
        }
    }
}

TEST(ChartPalette, TellsEveryLineApartWithoutColour) {
    for (int i = 0; i < kSeriesLooks; ++i) {
        for (int j = 0; j < i; ++j) {
            EXPECT_NE(seriesLook(i, Scheme::Print).dash, seriesLook(j, Scheme::Print).dash);
            EXPECT_NE(seriesLook(i, Scheme::Light).dash, seriesLook(j, Scheme::Light).dash);
        }
    }
    EXPECT_EQ(seriesLook(-1, Scheme::Light).colour, seriesLook(kSeriesLooks - 1, Scheme::Light).colour);
}

TEST(Icons, AreCompiledInAndPaintSomething) {
    const QStringList names = iconNames();
    ASSERT_GT(names.size(), 60);
    for (const QString& name : names) {
        const QImage picture = icon(name).pixmap(QSize(24, 24), 1.0).toImage();
        int painted = 0;
        for (int y = 0; y < picture.height(); ++y) {
            for (int x = 0; x < picture.width(); ++x)
                painted += qAlpha(picture.pixel(x, y)) > 40;
        }
        EXPECT_GT(painted, 8) << name.toStdString();
        EXPECT_LT(painted, 400) << name.toStdString() << " is no line drawing";
    }
}

TEST_F(Theme, RecoloursIconsWhenItIsSwitched) {
    const QIcon check = icon("stop");
    const auto inkOf = [&check] {
        const QImage picture = check.pixmap(QSize(24, 24), 1.0).toImage();
        QColor strongest = Qt::transparent;
        for (int y = 0; y < 24; ++y) {
            for (int x = 0; x < 24; ++x) {
                const QColor pixel = picture.pixelColor(x, y);
                if (pixel.alpha() > strongest.alpha())
                    strongest = pixel;
            }
        }
        strongest.setAlpha(255);
        return strongest;
    };
    theme::apply(*qApp, Scheme::Light);
    EXPECT_LT(inkOf().lightness(), 80);
    theme::apply(*qApp, Scheme::Dark);
    EXPECT_GT(inkOf().lightness(), 180);
}

TEST_F(Theme, SwitchesLiveWidgetsWithoutRebuildingThem) {
    QWidget window;
    window.resize(200, 80);
    QPushButton button("Save", &window);
    button.setGeometry(20, 20, 120, 32);
    theme::setRole(&button, ButtonRole::Primary);
    window.show();
    for (const Scheme scheme : {Scheme::Light, Scheme::Dark, Scheme::Light}) {
        theme::apply(*qApp, scheme);
        QApplication::processEvents(); // widgets hear of a new palette by event
        EXPECT_EQ(theme::scheme(), scheme);
        const QImage picture = window.grab().toImage();
        const Tokens t = tokensFor(scheme);
        EXPECT_EQ(picture.pixelColor(4, 4), t.paper) << nameOf(scheme);
        EXPECT_EQ(picture.pixelColor(26, 36), t.accent) << nameOf(scheme);
        EXPECT_EQ(theme::tokensOf(&button), t);
    }
    EXPECT_NE(qobject_cast<PaperStyle*>(QApplication::style()), nullptr);
}

TEST_F(Theme, KeepsSelectedTextLegible) {
    for (const Scheme scheme : {Scheme::Light, Scheme::Dark}) {
        theme::apply(*qApp, scheme);
        const Tokens t = tokensFor(scheme);
        QTableWidget table(1, 1);
        table.setSelectionBehavior(QAbstractItemView::SelectRows);
        table.setItem(0, 0, new QTableWidgetItem(QString(QChar(0x2588)).repeated(6)));
        table.selectRow(0);
        table.setCurrentItem(nullptr, QItemSelectionModel::NoUpdate);
        table.resize(200, 100);
        table.show();
        const QRect cell = table.visualItemRect(table.item(0, 0));
        const QImage picture = table.viewport()->grab().toImage();
        // Full blocks: the middle of the text is pure ink, the end of the cell pure selection.
        EXPECT_EQ(picture.pixelColor(cell.left() + 30, cell.center().y()), t.ink) << nameOf(scheme);
        EXPECT_EQ(picture.pixelColor(cell.right() - 4, cell.center().y()), t.accentSoft) << nameOf(scheme);
    }
}

TEST_F(Theme, ShowsTheFocusRing) {
    QWidget window;
    window.resize(220, 60);
    QPushButton button("Print", &window);
    button.setGeometry(10, 10, 90, 32);
    QLineEdit edit(&window);
    edit.setGeometry(110, 10, 90, 32);
    window.show();
    window.activateWindow();
    const Tokens t = tokensFor(Scheme::Light);
    button.setFocus();
    QApplication::processEvents();
    EXPECT_EQ(window.grab().toImage().pixelColor(55, 10), t.focus);
    EXPECT_NE(window.grab().toImage().pixelColor(155, 10), t.focus);
    edit.setFocus();
    QApplication::processEvents();
    EXPECT_NE(window.grab().toImage().pixelColor(55, 10), t.focus);
    EXPECT_EQ(window.grab().toImage().pixelColor(155, 10), t.focus);
}

TEST_F(Theme, OutlinesAFieldThatMustBePutRight) {
    QLineEdit edit;
    edit.resize(120, 32);
    edit.show();
    edit.clearFocus();
    theme::setFieldState(&edit, FieldState::Error);
    EXPECT_EQ(edit.grab().toImage().pixelColor(60, 0), tokensFor(Scheme::Light).dangerText);
    theme::setFieldState(&edit, FieldState::Warning);
    EXPECT_EQ(edit.grab().toImage().pixelColor(60, 0), tokensFor(Scheme::Light).amber);
}

TEST(Figures, HaveOneWidthForEveryDigit) {
    const QFont font = theme::font(TextRole::Body);
    const double ones = figuresWidth(font, "1,111,111");
    for (const char* text : {"8,888,888", "0,000,000", "4,471,902"})
        EXPECT_DOUBLE_EQ(figuresWidth(font, text), ones);
    // Without that the font's own figures differ, or this test would prove nothing.
    EXPECT_NE(QFontMetricsF(font).horizontalAdvance("1111111"),
              QFontMetricsF(font).horizontalAdvance("8888888"));
}

TEST(Figures, StandFlushRight) {
    QImage picture(120, 24, QImage::Format_RGB32);
    const auto lastInk = [&picture](const QString& text) {
        picture.fill(Qt::white);
        QPainter painter(&picture);
        painter.setFont(theme::font(TextRole::Body));
        drawFigures(painter, QRectF(0, 0, 100, 24), Qt::AlignRight | Qt::AlignVCenter, text);
        painter.end();
        for (int x = 119; x >= 0; --x) {
            for (int y = 0; y < 24; ++y) {
                if (qGray(picture.pixel(x, y)) < 128)
                    return x;
            }
        }
        return -1;
    };
    EXPECT_NEAR(lastInk("8,008"), lastInk("88"), 1);
    EXPECT_LT(lastInk("8,008"), 100);
    EXPECT_GT(lastInk("8,008"), 92);
    // Too long a text is cut, never painted past its place.
    EXPECT_LE(lastInk("888,888,888,888,888,888"), 100);
}
