// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QColor>

namespace milehold::ui {

/// Day, night, or on paper (white, dark ink).
enum class Scheme { Light, Dark, Print };

/// Every colour that the program paints with. Text colours reach WCAG 2.1 AA (4.5 : 1) on the grounds named
/// beside them, outlines and marks 3 : 1; a test computes it.
struct Tokens {
    Scheme scheme = Scheme::Light;
    // Grounds, from the desk to what lies on it.
    QColor sunken;  ///< rail, table headers, tracks
    QColor paper;   ///< the window
    QColor surface; ///< cards, tables, fields
    QColor raised;  ///< menus, tooltips, a row under the pointer
    // Ink, on every ground.
    QColor ink;
    QColor inkSoft;  ///< labels, units, notes
    QColor inkFaint; ///< disabled only
    // Lines.
    QColor hairline; ///< between things
    QColor outline;  ///< around what can be used
    // The one working accent.
    QColor accent; ///< fill of the main button, under onAccent
    QColor accentHover;
    QColor accentPressed;
    QColor onAccent;
    QColor accentText; ///< accent as text or line, on every ground
    QColor accentSoft; ///< selected rows, under ink and inkSoft
    QColor focus;      ///< focus ring
    // The signal: kept for "needs you".
    QColor amber; ///< mark, under onAmber
    QColor onAmber;
    QColor amberSoft; ///< message bar, warning under a field, under ink and amberText
    QColor amberText; ///< on every ground
    // What went wrong, or cannot be taken back.
    QColor danger; ///< fill, under onDanger
    QColor onDanger;
    QColor dangerSoft; ///< under ink and dangerText
    QColor dangerText; ///< on every ground

    friend bool operator==(const Tokens&, const Tokens&) = default;
};

Tokens tokensFor(Scheme scheme);

/// Ratio of relative luminances, 1 to 21.   Source: WCAG 2.1, definition of contrast ratio.
double contrast(const QColor& a, const QColor& b);

/// Lays a colour over an opaque ground with a strength of 0 to 1.
QColor mixed(const QColor& ground, const QColor& over, double strength);

// Space: everything is a multiple of half a grid step.
inline constexpr int kGrid = 8;
inline constexpr int kHalf = 4;
inline constexpr int kGap = 16;    ///< between groups
inline constexpr int kMargin = 24; ///< around a room
inline constexpr int kRadius = 6;  ///< the one radius
inline constexpr int kControlHeight = 32;
inline constexpr int kLargeControlHeight = 40;
inline constexpr int kRowHeight = 36;
inline constexpr int kIconSize = 20;

// Type scale in pixels; nothing is smaller than kSmall.
inline constexpr int kSmall = 12;
inline constexpr int kBody = 14;
inline constexpr int kLead = 16;
inline constexpr int kTitle = 20;
inline constexpr int kBig = 32;
inline constexpr int kHero = 48;

} // namespace milehold::ui
