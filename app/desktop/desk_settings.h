// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quantity/distance.h"
#include "ui/theme/tokens.h"

#include <QByteArray>
#include <QString>
#include <QStringList>

#include <optional>

namespace milehold::app {

/// What this desk remembers between two starts: no records, only how the program was left.
class DeskSettings {
public:
    QStringList recentShops() const;
    void addRecentShop(const QString& folder);
    ui::Scheme scheme() const;
    void setScheme(ui::Scheme scheme);
    QString person(const QString& shopFolder) const;
    void setPerson(const QString& shopFolder, const QString& name);
    /// How distances are shown here; empty: as the shop's settings say.
    std::optional<core::DistanceUnit> unit(const QString& shopFolder) const;
    void setUnit(const QString& shopFolder, core::DistanceUnit unit);
    QByteArray geometry() const;
    void setGeometry(const QByteArray& geometry);
};

} // namespace milehold::app
