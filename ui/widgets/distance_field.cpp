// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/widgets/distance_field.h"

#include "ui/widgets/number_text.h"
#include "ui/widgets/text.h"

namespace milehold::ui {

DistanceField::DistanceField(QWidget* parent) : UnitField(parent) {
    setSuffix(unitSign(unit_));
    setMaxLength(16);
    connect(this, &QLineEdit::textEdited, this, &DistanceField::edited);
    connect(this, &QLineEdit::editingFinished, this, [this] {
        // Thousands set apart do not make a typed number less of the person's own.
        const bool typed = isModified();
        if (const auto value = distance())
            show(value);
        setModified(typed);
    });
}

void DistanceField::setDistance(std::optional<core::Distance> distance) {
    loaded_ = distance;
    show(distance);
}

std::optional<core::Distance> DistanceField::distance() const {
    const auto count = typed();
    if (!count)
        return std::nullopt;
    if (loaded_ && loaded_->whole(unit_) == *count)
        return loaded_;
    return core::Distance::from(*count, unit_);
}

bool DistanceField::hasValidText() const {
    return text().trimmed().isEmpty() || typed().has_value();
}

void DistanceField::setUnit(core::DistanceUnit unit) {
    if (unit == unit_)
        return;
    const auto value = distance();
    const bool valid = hasValidText();
    unit_ = unit;
    setSuffix(unitSign(unit));
    if (!valid)
        return; // what cannot be read stays as it was typed
    loaded_ = value;
    show(value);
}

std::optional<std::int64_t> DistanceField::typed() const {
    return readNumber(text(), 0, locale(), core::Distance::kMost);
}

void DistanceField::show(std::optional<core::Distance> distance) {
    const QString shown = distance ? writeNumber(distance->whole(unit_), 0, locale()) : QString();
    if (shown != text())
        setText(shown);
}

} // namespace milehold::ui
