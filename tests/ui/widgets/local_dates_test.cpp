// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/widgets/text.h"

#include <gtest/gtest.h>

namespace milehold::ui {
namespace {

// ISO 8601 dates as core writes them; the order of day, month and year is the locale's (Unicode CLDR).
TEST(LocalDates, WriteTheDatesOfASentenceAsTheRestOfTheScreen) {
    const QLocale english(QLocale::English, QLocale::UnitedStates);
    const QLocale german(QLocale::German, QLocale::Germany);
    const QString sentence = QStringLiteral("Between 2031-05-16 and 2031-06-01 it fell.");
    EXPECT_EQ(withLocalDates(sentence, english), QStringLiteral("Between 5/16/2031 and 6/1/2031 it fell."));
    EXPECT_EQ(withLocalDates(sentence, german), QStringLiteral("Between 16.05.2031 and 01.06.2031 it fell."));
}

TEST(LocalDates, LeaveWhatIsNoDateAlone) {
    for (const char* text : {"", "Part 1203-45-67 B", "2031-13-40", "12031-05-16", "no date"})
        EXPECT_EQ(withLocalDates(QString::fromLatin1(text)), QString::fromLatin1(text));
}

} // namespace
} // namespace milehold::ui
