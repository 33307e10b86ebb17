// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/theme/tokens.h"

#include <algorithm>
#include <cmath>

namespace milehold::ui {

namespace {

Tokens lightTokens() {
    Tokens t;
    t.scheme = Scheme::Light;
    t.sunken = "#EAE6DC";
    t.paper = "#F4F1EA";
    t.surface = "#FDFCFA";
    t.raised = "#FFFFFF";
    t.ink = "#20262A";
    t.inkSoft = "#535A5F";
    t.inkFaint = "#95968F";
    t.hairline = "#DAD5C9";
    t.outline = "#85837B";
    t.accent = "#12505C";
    t.accentHover = "#0E424C";
    t.accentPressed = "#0A343C";
    t.onAccent = "#FCFBF8";
    t.accentText = "#12505C";
    t.accentSoft = "#D3E3E3";
    t.focus = "#1B7D8E";
    t.amber = "#E5A31C";
    t.onAmber = "#20262A";
    t.amberSoft = "#FAEBC9";
    t.amberText = "#774B00";
    t.danger = "#9E2F28";
    t.onDanger = "#FFFFFF";
    t.dangerSoft = "#F5DFDB";
    t.dangerText = "#922A24";
    return t;
}

Tokens darkTokens() {
    Tokens t;
    t.scheme = Scheme::Dark;
    t.sunken = "#16191B";
    t.paper = "#1D2123";
    t.surface = "#262A2D";
    t.raised = "#303539";
    t.ink = "#ECE8E0";
    t.inkSoft = "#B5B1A8";
    t.inkFaint = "#74736D";
    t.hairline = "#3A3F42";
    t.outline = "#868884";
    t.accent = "#2A7682";
    t.accentHover = "#2F7D89";
    t.accentPressed = "#215F69";
    t.onAccent = "#FFFFFF";
    t.accentText = "#86C8D1";
    t.accentSoft = "#21454C";
    t.focus = "#62B3C0";
    t.amber = "#EDB13F";
    t.onAmber = "#1A1D1F";
    t.amberSoft = "#42361C";
    t.amberText = "#F1C46B";
    t.danger = "#B5473D";
    t.onDanger = "#FFFFFF";
    t.dangerSoft = "#4A2A28";
    t.dangerText = "#F2A198";
    return t;
}

Tokens printTokens() {
    Tokens t = lightTokens();
    t.scheme = Scheme::Print;
    t.sunken = "#F0F0F0";
    t.paper = t.surface = t.raised = "#FFFFFF";
    t.ink = "#101010";
    t.inkSoft = "#404040";
    t.inkFaint = "#8A8A8A";
    t.hairline = "#C4C4C4";
    t.outline = "#707070";
    return t;
}

double linear(double channel) {
    return channel <= 0.03928 ? channel / 12.92 : std::pow((channel + 0.055) / 1.055, 2.4);
}

double luminance(const QColor& c) {
    return 0.2126 * linear(c.redF()) + 0.7152 * linear(c.greenF()) + 0.0722 * linear(c.blueF());
}

} // namespace

Tokens tokensFor(Scheme scheme) {
    switch (scheme) {
    case Scheme::Dark:
        return darkTokens();
    case Scheme::Print:
        return printTokens();
    case Scheme::Light:
        break;
    }
    return lightTokens();
}

double contrast(const QColor& a, const QColor& b) {
    const double la = luminance(a) + 0.05;
    const double lb = luminance(b) + 0.05;
    return std::max(la, lb) / std::min(la, lb);
}

QColor mixed(const QColor& ground, const QColor& over, double strength) {
    const auto s = static_cast<float>(std::clamp(strength, 0.0, 1.0));
    const auto mix = [s](float from, float to) { return from + (to - from) * s; };
    return QColor::fromRgbF(mix(ground.redF(), over.redF()), mix(ground.greenF(), over.greenF()),
                            mix(ground.blueF(), over.blueF()));
}

} // namespace milehold::ui
