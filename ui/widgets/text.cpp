// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/widgets/text.h"

#include "ui/widgets/number_text.h"

#include <QCoreApplication>
#include <QRegularExpression>

#include <cmath>

namespace milehold::ui {

namespace {

const QChar kNoBreak(0x00A0);

QString tr(const char* text) {
    return QCoreApplication::translate("Text", text);
}

} // namespace

QString toText(const std::string& utf8) {
    return QString::fromStdString(utf8);
}
std::string toUtf8(const QString& text) {
    return text.toStdString();
}

QDate toQDate(core::Date date) {
    if (!date.ok())
        return {};
    return {static_cast<int>(date.year()), static_cast<int>(static_cast<unsigned>(date.month())),
            static_cast<int>(static_cast<unsigned>(date.day()))};
}

core::Date toDate(QDate date) {
    if (!date.isValid())
        return {};
    return {std::chrono::year(date.year()), std::chrono::month(static_cast<unsigned>(date.month())),
            std::chrono::day(static_cast<unsigned>(date.day()))};
}

QString dateText(core::Date date, const QLocale& locale) {
    const QDate value = toQDate(date);
    if (!value.isValid())
        return {};
    QString format = locale.dateFormat(QLocale::ShortFormat);
    if (!format.contains(QLatin1String("yyyy")))
        format.replace(QLatin1String("yy"), QLatin1String("yyyy"));
    return locale.toString(value, format);
}

QString withLocalDates(const QString& sentence, const QLocale& locale) {
    static const QRegularExpression iso(QStringLiteral("\\b\\d{4}-\\d{2}-\\d{2}\\b"));
    QString text;
    qsizetype end = 0;
    for (auto found = iso.globalMatch(sentence); found.hasNext();) {
        const QRegularExpressionMatch match = found.next();
        const QDate date = QDate::fromString(match.captured(), Qt::ISODate);
        text += sentence.mid(end, match.capturedStart() - end);
        text += date.isValid() ? dateText(toDate(date), locale) : match.captured();
        end = match.capturedEnd();
    }
    return text + sentence.mid(end);
}

QString unitSign(core::DistanceUnit unit) {
    return unit == core::DistanceUnit::Miles ? tr("mi") : tr("km");
}

QString distanceText(core::Distance distance, core::DistanceUnit unit, const QLocale& locale) {
    return locale.toString(static_cast<qlonglong>(distance.whole(unit))) + kNoBreak + unitSign(unit);
}

QString distanceText(double count, core::DistanceUnit unit, const QLocale& locale) {
    return locale.toString(static_cast<qlonglong>(std::llround(count))) + kNoBreak + unitSign(unit);
}

int minorDigits(const QString& currency) {
    return core::minorDigits(toUtf8(currency));
}

QString currencySign(const QString& currency) {
    if (currency == QLatin1String("USD"))
        return QStringLiteral("$");
    if (currency == QLatin1String("EUR"))
        return QStringLiteral("€");
    if (currency == QLatin1String("GBP"))
        return QStringLiteral("£");
    return currency;
}

QString moneyText(core::Money money, const QString& currency, const QLocale& locale) {
    const bool negative = money.minor < 0;
    QString amount = writeNumber(money.minor, minorDigits(currency), locale);
    if (negative)
        amount.remove(0, locale.negativeSign().size());
    const QString sign = currencySign(currency);
    // The locale's own pattern, with a figure that cannot be mistaken for part of it.
    const QString pattern = locale.toCurrencyString(1.0, QStringLiteral("¤"), 0);
    const bool before = pattern.startsWith(u'¤');
    const QString gap = before && sign.size() == 1 ? QString() : QString(kNoBreak);
    const QString text = before ? sign + gap + amount : amount + gap + sign;
    return negative ? locale.negativeSign() + text : text;
}

QString hoursText(core::Hours hours, const QLocale& locale) {
    QString text = writeNumber(hours.hundredths, 2, locale);
    if (text.endsWith(u'0'))
        text.chop(1);
    return text + kNoBreak + tr("h");
}

QString shareText(double share, const QLocale& locale) {
    const double percent = std::round(share * 100);
    QString text;
    if (percent <= 0 && share > 0) {
        text = QStringLiteral("< ") + locale.toString(1);
    } else if (percent >= 100 && share < 1) {
        text = QStringLiteral("> ") + locale.toString(99);
    } else {
        text = locale.toString(static_cast<int>(percent));
    }
    text.replace(u' ', kNoBreak);
    return text + kNoBreak + locale.percent();
}

QString countText(double count, const QLocale& locale) {
    const double whole = std::round(count);
    if (std::abs(count - whole) < 1e-9)
        return locale.toString(static_cast<qlonglong>(whole));
    return locale.toString(count, 'f', 1);
}

} // namespace milehold::ui
