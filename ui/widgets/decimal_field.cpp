// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/widgets/decimal_field.h"

#include "ui/widgets/number_text.h"
#include "ui/widgets/text.h"

namespace milehold::ui {

DecimalField::DecimalField(int digits, QWidget* parent) : UnitField(parent), digits_(digits) {
    setMaxLength(24);
    connect(this, &QLineEdit::textEdited, this, &DecimalField::edited);
    connect(this, &QLineEdit::editingFinished, this, [this] {
        if (const auto value = scaled())
            setScaled(value);
    });
}

void DecimalField::setScaled(std::optional<std::int64_t> value) {
    const QString shown = value ? writeNumber(*value, digits_, locale()) : QString();
    if (shown != text())
        setText(shown);
}

std::optional<std::int64_t> DecimalField::scaled() const {
    const auto value = readNumber(text(), digits_, locale());
    if (!value || *value < least_ || *value > most_)
        return std::nullopt;
    return value;
}

bool DecimalField::hasValidText() const {
    return text().trimmed().isEmpty() || scaled().has_value();
}

void DecimalField::setRange(std::int64_t least, std::int64_t most) {
    least_ = least;
    most_ = most;
}

void DecimalField::setDigits(int digits) {
    digits_ = digits;
}

MoneyField::MoneyField(QWidget* parent) : DecimalField(2, parent) {
    setCurrency(QStringLiteral("USD"));
}

void MoneyField::setCurrency(const QString& currency) {
    const auto value = scaled();
    setDigits(minorDigits(currency));
    // The sign stands where the locale puts it.
    const bool before = locale().toCurrencyString(1.0, QStringLiteral("¤"), 0).startsWith(u'¤');
    setPrefix(before ? currencySign(currency) : QString());
    setSuffix(before ? QString() : currencySign(currency));
    if (value)
        setScaled(value);
}

void MoneyField::setMoney(std::optional<core::Money> money) {
    setScaled(money ? std::optional(money->minor) : std::nullopt);
}

std::optional<core::Money> MoneyField::money() const {
    const auto value = scaled();
    return value ? std::optional(core::Money{*value}) : std::nullopt;
}

HoursField::HoursField(QWidget* parent) : DecimalField(2, parent) {
    setSuffix(tr("h"));
    setRange(0, 100'000);
}

void HoursField::setHours(std::optional<core::Hours> hours) {
    setScaled(hours ? std::optional<std::int64_t>(hours->hundredths) : std::nullopt);
}

std::optional<core::Hours> HoursField::hours() const {
    const auto value = scaled();
    return value ? std::optional(core::Hours{static_cast<std::int32_t>(*value)}) : std::nullopt;
}

} // namespace milehold::ui
