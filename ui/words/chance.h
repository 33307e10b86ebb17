// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quantity/distance.h"
#include "core/quote/quote.h"
#include "ui/office/office_view.h"

#include <QString>

namespace milehold::ui {

/// A chance as a cell shows it: a figure, and under it what it rests on.
struct ChanceWords {
    QString figure;     ///< `91 %`, `84 to 100 %`, `too few to say`; never a number that may not be said
    QString under;      ///< `84 to 97 %`, `not watched so far`
    bool faint = false; ///< no estimate, or fewer than five watched
};

/// By the rules of an honest quote: no estimate for fewer than five lives, without a comeback so far, or
/// where fewer than five are watched; nothing beyond the last watched distance.
ChanceWords chanceWords(const core::QuotePoint& point, int lives, int comebacks);
ChanceWords chanceAtMark(const OfficeGroup& group);
ChanceWords chanceAt(const core::QuotePoint& point, const core::PathQuote& path);

/// The distance by which half came back: `62,000 mi` over `51,000 to 80,000 mi`, or words when it was not
/// reached.
ChanceWords medianWords(const OfficeGroup& group, core::DistanceUnit unit);

} // namespace milehold::ui
