// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quantity/money.h"
#include "ui/widgets/unit_field.h"

#include <optional>

namespace milehold::ui {

/// A number with a fixed count of decimals, kept as a whole number of 10^-digits: never rounded on the way.
class DecimalField : public UnitField {
    Q_OBJECT
public:
    explicit DecimalField(int digits, QWidget* parent = nullptr);

    void setScaled(std::optional<std::int64_t> value);
    /// Empty when blank or unreadable; hasValidText() tells them apart.
    std::optional<std::int64_t> scaled() const;
    bool hasValidText() const;
    /// Bounds that a value must keep; [0, 10^12] unless set.
    void setRange(std::int64_t least, std::int64_t most);
    int digits() const { return digits_; }

signals:
    void edited(); ///< by the user, not by setScaled()

protected:
    void setDigits(int digits);

private:
    int digits_;
    std::int64_t least_ = 0;
    std::int64_t most_ = 1'000'000'000'000;
};

/// An amount in the shop's currency.
class MoneyField : public DecimalField {
    Q_OBJECT
public:
    explicit MoneyField(QWidget* parent = nullptr);
    /// ISO 4217; keeps the amount in minor units.
    void setCurrency(const QString& currency);
    void setMoney(std::optional<core::Money> money);
    std::optional<core::Money> money() const;
};

/// Working hours to the hundredth.
class HoursField : public DecimalField {
    Q_OBJECT
public:
    explicit HoursField(QWidget* parent = nullptr);
    void setHours(std::optional<core::Hours> hours);
    std::optional<core::Hours> hours() const;
};

} // namespace milehold::ui
