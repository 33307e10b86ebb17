// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/words/amounts.h"

#include "core/quote/words.h"
#include "ui/widgets/text.h"

#include <QCoreApplication>
#include <QLocale>

#include <cmath>

namespace milehold::ui {

namespace {

struct Words {
    Q_DECLARE_TR_FUNCTIONS(Amounts)
};

constexpr QChar kNoBreak(0x00a0);

QString unbroken(QString text) {
    return text.replace(QChar(u' '), kNoBreak);
}

} // namespace

QString unitWord(core::DistanceUnit unit) {
    return unit == core::DistanceUnit::Miles ? Words::tr("miles") : Words::tr("kilometres");
}

QString shortCountText(double count) {
    const auto scaled = [](double value) {
        const bool fraction = value < 9.95 && std::abs(value - std::round(value)) >= 0.05;
        return QLocale().toString(value, 'f', fraction ? 1 : 0);
    };
    if (count >= 999'500)
        return unbroken(Words::tr("%1 M").arg(scaled(count / 1e6)));
    if (count >= 999.5)
        return unbroken(Words::tr("%1 k").arg(scaled(count / 1e3)));
    return countText(std::round(count));
}

QString estimateText(core::Distance distance, core::DistanceUnit unit) {
    return distanceText(std::round(distance.in(unit) / 100) * 100, unit);
}

double quotedDistance(double count) {
    return count < 1000 ? std::round(count) : std::round(count / 1000) * 1000;
}

QString limitsText(std::optional<double> lower, std::optional<double> upper) {
    if (lower && upper) {
        return unbroken(Words::tr("%1 to %2 %").arg(core::percentDown(*lower)).arg(core::percentUp(*upper)));
    }
    if (lower)
        return unbroken(Words::tr("%1 % or more").arg(core::percentDown(*lower)));
    if (upper)
        return unbroken(Words::tr("%1 % or less").arg(core::percentUp(*upper)));
    return Words::tr("no limits");
}

QString orMoreText(double share) {
    // A limit that is a whole percent but for the last bits of its arithmetic is that percent.
    return unbroken(Words::tr("%1 % or more").arg(static_cast<int>(std::floor(share * 100 + 1e-9))));
}

QString roundPriceText(double minor, const std::string& currency) {
    const QString code = toText(currency);
    const double unit = std::pow(10.0, minorDigits(code));
    return QLocale().toCurrencyString(static_cast<qlonglong>(std::llround(minor / unit)), currencySign(code));
}

QString priceText(core::Money money, const std::string& currency) {
    const QString code = toText(currency);
    const auto unit = static_cast<std::int64_t>(std::llround(std::pow(10.0, minorDigits(code))));
    if (money.minor % unit != 0)
        return moneyText(money, code);
    return QLocale().toCurrencyString(static_cast<qlonglong>(money.minor / unit), currencySign(code));
}

QString repairsText(int count) {
    return count == 1 ? Words::tr("1 repair") : Words::tr("%1 repairs").arg(countText(count));
}

QString cameBackText(int count) {
    return count == 0 ? Words::tr("none came back") : Words::tr("%1 came back").arg(countText(count));
}

} // namespace milehold::ui
