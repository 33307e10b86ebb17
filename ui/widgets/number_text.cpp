// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/widgets/number_text.h"

#include <algorithm>

namespace milehold::ui {

namespace {

bool isSpace(QChar c) {
    return c.isSpace() || c == u'\'' || c == QChar(0x2019);
}

/// The place of the decimal sign in text of digits, points and commas; -1: there is none, -2: it makes no
/// sense.
qsizetype decimalPlace(const QString& text, const QLocale& locale) {
    const qsizetype last = std::max(text.lastIndexOf(u'.'), text.lastIndexOf(u','));
    if (last < 0)
        return -1;
    const QChar sign = text[last];
    const bool both = text.contains(sign == u'.' ? u',' : u'.');
    if (text.count(sign) > 1)
        return both ? -2 : -1;
    if (both)
        return last;
    const bool isGroup = locale.decimalPoint() != QString(sign);
    return isGroup && last > 0 && text.size() - last - 1 == 3 ? -1 : last;
}

/// Whole digits with groups of three after the first sign, if there is any.
bool groupsMakeSense(const QString& whole) {
    QChar sign;
    qsizetype run = 0;
    bool first = true;
    for (const QChar c : whole) {
        if (c.isDigit()) {
            ++run;
            continue;
        }
        if (!sign.isNull() && c != sign)
            return false;
        sign = c;
        if (first ? (run < 1 || run > 3) : run != 3)
            return false;
        first = false;
        run = 0;
    }
    return first || run == 3;
}

} // namespace

std::optional<std::int64_t> readNumber(const QString& typed, int digits, const QLocale& locale,
                                       std::int64_t most) {
    QString text;
    for (const QChar c : typed) {
        if (!isSpace(c))
            text += c;
    }
    bool negative = false;
    if (text.startsWith(u'-') || text.startsWith(QChar(0x2212))) {
        negative = true;
        text.remove(0, 1);
    }
    bool any = false;
    for (const QChar c : text) {
        const bool digit = c >= u'0' && c <= u'9';
        any = any || digit;
        if (!digit && c != u'.' && c != u',')
            return std::nullopt;
    }
    if (!any)
        return std::nullopt;
    const qsizetype place = decimalPlace(text, locale);
    if (place == -2)
        return std::nullopt;
    const QString whole = place < 0 ? text : text.left(place);
    QString fraction = place < 0 ? QString() : text.mid(place + 1);
    while (fraction.size() > digits && fraction.endsWith(u'0'))
        fraction.chop(1);
    if (!groupsMakeSense(whole) || fraction.size() > digits || (digits == 0 && place >= 0))
        return std::nullopt;
    std::int64_t value = 0;
    const QString all = whole + fraction.leftJustified(digits, u'0');
    for (const QChar c : all) {
        if (!c.isDigit())
            continue;
        if (value > most / 10)
            return std::nullopt;
        value = value * 10 + (c.unicode() - u'0');
    }
    if (value > most)
        return std::nullopt;
    return negative ? -value : value;
}

QString writeNumber(std::int64_t scaled, int digits, const QLocale& locale) {
    const bool negative = scaled < 0;
    const auto magnitude =
        negative ? 0 - static_cast<std::uint64_t>(scaled) : static_cast<std::uint64_t>(scaled);
    std::uint64_t unit = 1;
    for (int i = 0; i < digits; ++i)
        unit *= 10;
    QString text = locale.toString(static_cast<qulonglong>(magnitude / unit));
    if (digits > 0) {
        text += locale.decimalPoint() +
                QString::number(static_cast<qulonglong>(magnitude % unit)).rightJustified(digits, u'0');
    }
    return negative ? locale.negativeSign() + text : text;
}

} // namespace milehold::ui
