// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/words/amounts.h"

#include <QCoreApplication>
#include <QDate>
#include <QLocale>

#include <algorithm>
#include <array>
#include <cmath>

namespace milehold::ui {

namespace {

struct Words {
    Q_DECLARE_TR_FUNCTIONS(Amounts)
};

/// Minor digits of the currencies that do not have two.   Source: ISO 4217:2015, list one.
int minorDigits(const std::string& currency) {
    static constexpr std::array kNone = {"JPY", "KRW", "CLP", "ISK", "VND", "PYG", "UGX", "XAF", "XOF", "XPF"};
    static constexpr std::array kThree = {"KWD", "BHD", "OMR", "JOD", "TND", "IQD", "LYD"};
    if (std::find(kNone.begin(), kNone.end(), currency) != kNone.end()) return 0;
    if (std::find(kThree.begin(), kThree.end(), currency) != kThree.end()) return 3;
    return 2;
}

/// The locale's own sign where the currency is the locale's, else the code itself.
QString signOf(const std::string& currency) {
    const QLocale locale;
    if (locale.currencySymbol(QLocale::CurrencyIsoCode) == text(currency)) return locale.currencySymbol();
    if (currency == "USD") return QStringLiteral("$");
    if (currency == "EUR") return QStringLiteral("\u20ac");
    if (currency == "GBP") return QStringLiteral("\u00a3");
    return text(currency) + QChar(0x00a0);
}

QString moneyWithDigits(core::Money money, const std::string& currency, int shown) {
    const double amount = static_cast<double>(money.minor) / std::pow(10.0, minorDigits(currency));
    return QLocale().toCurrencyString(amount, signOf(currency), shown);
}

} // namespace

QString unitText(core::DistanceUnit unit) {
    return unit == core::DistanceUnit::Miles ? Words::tr("mi") : Words::tr("km");
}

QString unitWord(core::DistanceUnit unit) {
    return unit == core::DistanceUnit::Miles ? Words::tr("miles") : Words::tr("kilometres");
}

QString countText(double count) { return QLocale().toString(std::llround(count)); }

QString countText(std::int64_t count) { return QLocale().toString(static_cast<qlonglong>(count)); }

QString distanceText(double count, core::DistanceUnit unit) {
    return countText(count) + QChar(0x00a0) + unitText(unit);
}

QString distanceText(core::Distance distance, core::DistanceUnit unit) {
    return countText(distance.whole(unit)) + QChar(0x00a0) + unitText(unit);
}

QString shortCountText(double count) {
    const auto scaled = [](double value) {
        return QLocale().toString(value, 'f', value < 9.95 && std::abs(value - std::round(value)) >= 0.05 ? 1 : 0);
    };
    if (count >= 999'500) return Words::tr("%1 M").arg(scaled(count / 1e6));
    if (count >= 999.5) return Words::tr("%1 k").arg(scaled(count / 1e3));
    return countText(count);
}

double quotedDistance(double count) { return count < 1000 ? std::round(count) : std::round(count / 1000) * 1000; }

int percentOf(double share) {
    const int rounded = static_cast<int>(std::lround(share * 100));
    if (share < 1 && rounded == 100) return 99;
    if (share > 0 && rounded == 0) return 1;
    return rounded;
}

QString percentText(double share) { return Words::tr("%1 %").arg(percentOf(share)).replace(QChar(' '), QChar(0x00a0)); }

QString limitsText(std::optional<double> lower, std::optional<double> upper) {
    if (lower && upper) {
        return Words::tr("%1 to %2 %").arg(percentOf(*lower)).arg(percentOf(*upper)).replace(QChar(' '), QChar(0x00a0));
    }
    if (lower) return Words::tr("at least %1 %").arg(percentOf(*lower));
    if (upper) return Words::tr("at most %1 %").arg(percentOf(*upper));
    return Words::tr("no limits");
}

QString moneyText(core::Money money, const std::string& currency) {
    return moneyWithDigits(money, currency, minorDigits(currency));
}

QString shortMoneyText(core::Money money, const std::string& currency) {
    const auto unit = static_cast<std::int64_t>(std::llround(std::pow(10.0, minorDigits(currency))));
    return moneyWithDigits(money, currency, money.minor % unit == 0 ? 0 : minorDigits(currency));
}

QString hoursText(core::Hours hours) {
    const double value = hours.hundredths / 100.0;
    const int digits = hours.hundredths % 100 == 0 ? 0 : hours.hundredths % 10 == 0 ? 1 : 2;
    return Words::tr("%1 h").arg(QLocale().toString(value, 'f', digits)).replace(QChar(' '), QChar(0x00a0));
}

QString dateText(core::Date date) {
    if (!date.ok()) return {};
    const QDate day(int(date.year()), static_cast<int>(unsigned(date.month())), static_cast<int>(unsigned(date.day())));
    QString format = QLocale().dateFormat(QLocale::ShortFormat);
    if (!format.contains(QStringLiteral("yyyy"))) format.replace(QStringLiteral("yy"), QStringLiteral("yyyy"));
    return QLocale().toString(day, format);
}

QString repairsText(int count) {
    return count == 1 ? Words::tr("1 repair") : Words::tr("%1 repairs").arg(countText(std::int64_t{count}));
}

QString cameBackText(int count) {
    return count == 0 ? Words::tr("none came back") : Words::tr("%1 came back").arg(countText(std::int64_t{count}));
}

QString text(const std::string& utf8) { return QString::fromStdString(utf8); }

std::string utf8(const QString& text) { return text.toStdString(); }

} // namespace milehold::ui
