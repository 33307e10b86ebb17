// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/widgets/date_field.h"
#include "ui/widgets/decimal_field.h"
#include "ui/widgets/distance_field.h"
#include "ui/widgets/number_text.h"
#include "ui/widgets/text.h"

#include <QCoreApplication>
#include <QFocusEvent>
#include <QSignalSpy>
#include <QTest>

#include <gtest/gtest.h>

#include <random>

using namespace milehold;
using core::Distance;
using core::DistanceUnit;
using namespace milehold::ui;

namespace {

const QLocale kUs(QLocale::English, QLocale::UnitedStates);
const QLocale kGerman(QLocale::German, QLocale::Germany);

core::Date day(int y, unsigned m, unsigned d) {
    return {std::chrono::year(y), std::chrono::month(m), std::chrono::day(d)};
}

void type(QLineEdit& field, const QString& text) {
    field.selectAll();
    QTest::keyClicks(&field, text);
    QTest::keyClick(&field, Qt::Key_Return);
}

} // namespace

TEST(ReadNumber, TakesTheLocalesGroupsAndDecimals) {
    EXPECT_EQ(readNumber("48,200", 0, kUs), 48'200);
    EXPECT_EQ(readNumber("1,250.5", 2, kUs), 125'050);
    EXPECT_EQ(readNumber("1.250,50", 2, kGerman), 125'050);
    EXPECT_EQ(readNumber("48.200", 0, kGerman), 48'200);
    EXPECT_EQ(readNumber("48 200", 0, kUs), 48'200);
    EXPECT_EQ(readNumber("-3.50", 2, kUs), -350);
    EXPECT_EQ(readNumber("1,234,567", 0, kUs), 1'234'567);
    EXPECT_EQ(readNumber("12.500", 2, kUs), 1'250) << "noughts beyond the digits say nothing";
    EXPECT_EQ(readNumber(".500", 2, kGerman), 50) << "a group has digits before it";
    EXPECT_EQ(readNumber(QString(QChar(0x2212)) + "3.50", 2, kUs), -350) << "the minus sign of typesetting";
}

TEST(ReadNumber, TakesTheNumberPadsPointInEveryLocale) {
    EXPECT_EQ(readNumber("12.5", 2, kGerman), 1'250);
    EXPECT_EQ(readNumber("12,5", 2, kUs), 1'250);
}

TEST(ReadNumber, RefusesWhatItWouldHaveToGuess) {
    for (const char* text :
         {"", " ", "-", "abc", "12a", "1.2.3,4,5", "12.505", "1,2,3", "12,34,567", "1234,567", "1e3", "٣"}) {
        EXPECT_FALSE(readNumber(text, 2, kUs).has_value()) << text;
    }
    EXPECT_FALSE(readNumber("48.2", 0, kUs).has_value());
    EXPECT_FALSE(readNumber("48.200", 0, kUs).has_value()) << "a point is no group in this locale";
    EXPECT_FALSE(readNumber("99999999999999999999", 0, kUs).has_value());
    EXPECT_EQ(readNumber("1000000000", 0, kUs, 1'000'000'000), 1'000'000'000);
    EXPECT_FALSE(readNumber("1000000001", 0, kUs, 1'000'000'000).has_value());
}

TEST(WriteNumber, ComesBackAsItWasWritten) {
    std::mt19937_64 random(7);
    for (int i = 0; i < 2'000; ++i) {
        const auto value = static_cast<std::int64_t>(random() % 2'000'000'000'000) - 1'000'000'000'000;
        for (const QLocale& locale : {kUs, kGerman}) {
            EXPECT_EQ(readNumber(writeNumber(value, 2, locale), 2, locale), value);
            EXPECT_EQ(readNumber(writeNumber(value, 0, locale), 0, locale), value);
        }
    }
}

TEST(DistanceField, GivesAnUntouchedValueBackToTheMetre) {
    DistanceField field;
    for (const std::int64_t metres : {0LL, 1LL, 141'847'999LL, 141'848'640LL, 999'999'999'999LL}) {
        const auto value = Distance::fromMetres(metres);
        field.setDistance(value);
        EXPECT_EQ(field.distance(), value);
        field.setUnit(DistanceUnit::Kilometres);
        EXPECT_EQ(field.distance(), value);
        field.setUnit(DistanceUnit::Miles);
        EXPECT_EQ(field.distance(), value);
    }
    field.setDistance(std::nullopt);
    EXPECT_EQ(field.distance(), std::nullopt);
    EXPECT_TRUE(field.hasValidText());
}

TEST(DistanceField, KeepsWhatIsTypedExactlyInBothUnits) {
    DistanceField field;
    QSignalSpy edited(&field, &DistanceField::edited);
    type(field, "148212");
    EXPECT_EQ(field.distance(), Distance::miles(148'212));
    EXPECT_EQ(field.text(), "148,212");
    EXPECT_EQ(edited.count(), 6);
    field.setUnit(DistanceUnit::Kilometres);
    EXPECT_EQ(field.distance(), Distance::miles(148'212));
    type(field, "238600");
    EXPECT_EQ(field.distance(), Distance::kilometres(238'600));
    field.setUnit(DistanceUnit::Miles);
    EXPECT_EQ(field.distance(), Distance::kilometres(238'600)) << "showing it in miles must not round it";
}

TEST(DistanceField, RetypingTheShownNumberChangesNothing) {
    DistanceField field;
    const auto value = Distance::kilometres(100'000); // 62,137.1 mi
    field.setDistance(value);
    EXPECT_EQ(field.text(), "62,137");
    type(field, "62137");
    EXPECT_EQ(field.distance(), value);
    type(field, "62138");
    EXPECT_EQ(field.distance(), Distance::miles(62'138));
}

TEST(DistanceField, StaysThePersonsOwnWhenItsThousandsAreSetApart) {
    DistanceField field;
    field.setDistance(Distance::miles(1'000));
    EXPECT_FALSE(field.isModified());
    type(field, "148212");
    EXPECT_EQ(field.text(), "148,212");
    EXPECT_TRUE(field.isModified());
}

TEST(DistanceField, IsSelectedUnlessThePointerLeadsThere) {
    DistanceField field;
    field.setDistance(Distance::miles(148'212));
    QFocusEvent byPointer(QEvent::FocusIn, Qt::MouseFocusReason);
    QCoreApplication::sendEvent(&field, &byPointer);
    EXPECT_EQ(field.selectedText(), "");
    for (const auto reason :
         {Qt::TabFocusReason, Qt::OtherFocusReason}) { // by key, or led there by a finding
        field.deselect();
        QFocusEvent led(QEvent::FocusIn, reason);
        QCoreApplication::sendEvent(&field, &led);
        EXPECT_EQ(field.selectedText(), "148,212");
    }
}

TEST(DistanceField, TellsAnUnreadableEntryFromABlankOne) {
    DistanceField field;
    type(field, "about 50");
    EXPECT_FALSE(field.hasValidText());
    EXPECT_EQ(field.distance(), std::nullopt);
    EXPECT_EQ(field.text(), "about 50") << "what cannot be read stays";
    field.setUnit(DistanceUnit::Kilometres);
    EXPECT_EQ(field.text(), "about 50");
    type(field, "1000000001");
    EXPECT_FALSE(field.hasValidText());
}

TEST(MoneyField, NeverRoundsAndFollowsTheCurrency) {
    MoneyField field;
    type(field, "1,842.5");
    EXPECT_EQ(field.money(), core::Money{184'250});
    EXPECT_EQ(field.text(), "1,842.50");
    type(field, "0.1");
    EXPECT_EQ(field.money(), core::Money{10});
    type(field, "12.505");
    EXPECT_EQ(field.money(), std::nullopt);
    EXPECT_FALSE(field.hasValidText());
    field.setMoney(core::Money{999'999'999'99});
    EXPECT_EQ(field.money(), core::Money{999'999'999'99});
    field.setCurrency("JPY");
    field.setMoney(core::Money{1'500});
    EXPECT_EQ(field.text(), "1,500");
    EXPECT_EQ(field.money(), core::Money{1'500});
    field.setCurrency("KWD"); // three digits; source: ISO 4217
    EXPECT_EQ(field.text(), "1.500") << "what is shown is the same amount in the other currency's digits";
    EXPECT_EQ(field.money(), core::Money{1'500});
}

TEST(MoneyField, MayStayBlank) {
    MoneyField field;
    EXPECT_TRUE(field.hasValidText());
    type(field, "  ");
    EXPECT_TRUE(field.hasValidText());
    EXPECT_EQ(field.money(), std::nullopt);
}

TEST(MoneyField, RefusesNegativeAmountsUnlessAllowed) {
    MoneyField field;
    type(field, "-5");
    EXPECT_FALSE(field.hasValidText());
    field.setRange(-100'000, 100'000);
    EXPECT_EQ(field.money(), core::Money{-500});
}

TEST(HoursField, KeepsHundredths) {
    HoursField field;
    type(field, "7.35");
    EXPECT_EQ(field.hours(), core::Hours{735});
    type(field, "0.2");
    EXPECT_EQ(field.hours(), core::Hours{20});
    type(field, "1000");
    EXPECT_EQ(field.hours(), core::Hours{100'000});
    type(field, "1000.01");
    EXPECT_FALSE(field.hasValidText()) << "more hours than a job can hold";
    EXPECT_EQ(field.hours(), std::nullopt);
}

TEST(ReadDate, TakesIsoLocaleAndShortForms) {
    const core::Date today = day(2031, 4, 9);
    EXPECT_EQ(readDate("2030-02-28", today, kUs), day(2030, 2, 28));
    EXPECT_EQ(readDate("4/9/2031", today, kUs), day(2031, 4, 9));
    EXPECT_EQ(readDate("9.4.2031", today, kGerman), day(2031, 4, 9));
    EXPECT_EQ(readDate("9.4.31", today, kGerman), day(2031, 4, 9));
    EXPECT_EQ(readDate("4/9", today, kUs), day(2031, 4, 9));
    EXPECT_EQ(readDate("9.4.", today, kGerman), day(2031, 4, 9));
    EXPECT_EQ(readDate("t", today, kUs), today);
    EXPECT_EQ(readDate("+3", today, kUs), day(2031, 4, 12));
    EXPECT_EQ(readDate("-9", today, kUs), day(2031, 3, 31));
}

TEST(ReadDate, RefusesDaysThatDoNotExist) {
    const core::Date today = day(2031, 4, 9);
    for (const char* text : {"2031-02-29", "2031-13-01", "31.4.2031", "0000-01-01", "soon", "", "99/99"}) {
        EXPECT_FALSE(readDate(text, today, kUs).has_value()) << text;
    }
    EXPECT_EQ(readDate("2032-02-29", today, kUs), day(2032, 2, 29));
    EXPECT_FALSE(readDate("t", core::Date{}, kUs).has_value()) << "there is no clock in a field";
}

TEST(DateField, MovesByKeysAndKeepsItsValue) {
    DateField field;
    field.setToday(day(2031, 4, 9));
    QSignalSpy edited(&field, &DateField::edited);
    QTest::keyClick(&field, Qt::Key_Up);
    EXPECT_EQ(field.date(), day(2031, 4, 9)) << "from blank an arrow means today";
    QTest::keyClick(&field, Qt::Key_Up);
    EXPECT_EQ(field.date(), day(2031, 4, 10));
    QTest::keyClick(&field, Qt::Key_Down);
    QTest::keyClick(&field, Qt::Key_PageDown);
    EXPECT_EQ(field.date(), day(2031, 3, 9));
    EXPECT_EQ(edited.count(), 4);
    type(field, "2030-12-31");
    EXPECT_EQ(field.date(), day(2030, 12, 31));
    EXPECT_EQ(field.text(), "12/31/2030");
    for (int i = 0; i < 800; ++i) {
        const core::Date value = toDate(QDate(1995, 1, 1).addDays(i * 17));
        field.setDate(value);
        EXPECT_EQ(field.date(), value);
    }
}

TEST(Text, NeverRoundsAShareToCertainty) {
    const QChar gap(0x00A0);
    EXPECT_EQ(shareText(1.0, kUs), QString("100") + gap + "%");
    EXPECT_EQ(shareText(0.0, kUs), QString("0") + gap + "%");
    EXPECT_EQ(shareText(0.9999, kUs), QString(">") + gap + "99" + gap + "%");
    EXPECT_EQ(shareText(0.0001, kUs), QString("<") + gap + "1" + gap + "%");
    EXPECT_EQ(shareText(0.874, kUs), QString("87") + gap + "%");
}

TEST(Text, PutsTheCurrencySignWhereTheLocaleDoes) {
    EXPECT_EQ(moneyText(core::Money{125'050}, "USD", kUs), "$1,250.50");
    EXPECT_EQ(moneyText(core::Money{-5}, "USD", kUs), "-$0.05");
    EXPECT_EQ(moneyText(core::Money{125'050}, "EUR", kGerman), QString("1.250,50") + QChar(0x00A0) + "€");
    EXPECT_EQ(moneyText(core::Money{1'250}, "JPY", kUs), QString("JPY") + QChar(0x00A0) + "1,250");
}

TEST(Text, WritesDatesWithFourDigitsOfTheYear) {
    EXPECT_EQ(dateText(day(2031, 4, 9), kUs), "4/9/2031");
    EXPECT_EQ(dateText(day(2031, 4, 9), kGerman), "09.04.2031");
    EXPECT_EQ(dateText(core::Date{}, kUs), "");
    EXPECT_EQ(toDate(QDate()), core::Date{});
}
