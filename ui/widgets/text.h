// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quantity/date.h"
#include "core/quantity/distance.h"
#include "core/quantity/money.h"

#include <QDate>
#include <QLocale>
#include <QString>

#include <string>

namespace milehold::ui {

/// Between core's values and what a person reads. Numbers and dates follow the locale.

QString toText(const std::string& utf8);
std::string toUtf8(const QString& text);

/// Invalid for a value that is no date, both ways.
QDate toQDate(core::Date date);
core::Date toDate(QDate date);
/// Day, month and year of four digits in the locale's order; blank for no date.
QString dateText(core::Date date, const QLocale& locale = QLocale());

/// A sentence of core's, whose dates are ISO 8601, with its dates as dateText() writes them.
QString withLocalDates(const QString& sentence, const QLocale& locale = QLocale());

/// `mi` or `km`.
QString unitSign(core::DistanceUnit unit);
/// `48,200 mi`, with a space that does not break.
QString distanceText(core::Distance distance, core::DistanceUnit unit, const QLocale& locale = QLocale());
/// A whole number of units that is already in the unit: `48,200 mi`.
QString distanceText(double count, core::DistanceUnit unit, const QLocale& locale = QLocale());

/// How many digits stand behind the decimal point in this ISO 4217 currency: 2, for a few 0 or 3.
int minorDigits(const QString& currency);
/// `$`, `€`, or the code itself.
QString currencySign(const QString& currency);
/// `$1,250.50`, `1.250,50 €`: the sign where the locale puts it.
QString moneyText(core::Money money, const QString& currency, const QLocale& locale = QLocale());
/// Whole hundredths, without trailing noughts beyond one digit: `3.5 h`.
QString hoursText(core::Hours hours, const QLocale& locale = QLocale());

/// `87 %`; the share lies in [0, 1]. Never shows 0 % or 100 % for what is not exactly that: `< 1 %`, `> 99
/// %`.
QString shareText(double share, const QLocale& locale = QLocale());
/// A count, without a fraction when it is whole.
QString countText(double count, const QLocale& locale = QLocale());

} // namespace milehold::ui
