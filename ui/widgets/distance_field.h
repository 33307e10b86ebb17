// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quantity/distance.h"
#include "ui/widgets/unit_field.h"

#include <optional>

namespace milehold::ui {

/// An odometer or another distance, typed in whole miles or kilometres and kept in core's metres.
///
/// A value that was not touched comes back to the metre, whatever the unit it was shown in; so does one that
/// was retyped as it stood.
class DistanceField : public UnitField {
    Q_OBJECT
public:
    explicit DistanceField(QWidget* parent = nullptr);

    void setDistance(std::optional<core::Distance> distance);
    /// Empty when the field is blank or holds what is no whole distance; hasValidText() tells them apart.
    std::optional<core::Distance> distance() const;
    /// Blank, or a whole number of units up to core::Distance::kMost.
    bool hasValidText() const;

    /// Shows the same distance in the other unit.
    void setUnit(core::DistanceUnit unit);
    core::DistanceUnit unit() const { return unit_; }

signals:
    void edited(); ///< by the user, not by setDistance() or setUnit()

private:
    std::optional<std::int64_t> typed() const;
    void show(std::optional<core::Distance> distance);

    std::optional<core::Distance> loaded_;
    core::DistanceUnit unit_ = core::DistanceUnit::Miles;
};

} // namespace milehold::ui
