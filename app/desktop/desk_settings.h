// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/theme/tokens.h"

#include <QByteArray>
#include <QString>
#include <QStringList>

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
    QByteArray geometry() const;
    void setGeometry(const QByteArray& geometry);
};

} // namespace milehold::app
