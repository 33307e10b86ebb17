// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/desk_settings.h"

#include "storage/server/server_address.h"

#include <QCryptographicHash>
#include <QDir>
#include <QFileInfo>
#include <QSettings>

namespace milehold::app {

namespace {

constexpr int kMostRecent = 8;

/// Folders stand in the settings by their hash: their names are the shop's own.
QString keyOf(const char* what, const QString& shopFolder) {
    const auto hash = QCryptographicHash::hash(shopFolder.toUtf8(), QCryptographicHash::Sha1).toHex();
    return QString::fromLatin1(what) + QLatin1Char('/') + QString::fromLatin1(hash);
}

} // namespace

QStringList DeskSettings::recentShops() const {
    QStringList there;
    const QStringList known = QSettings().value(QStringLiteral("recent")).toStringList();
    for (const QString& folder : known)
        if (storage::isServerAddress(folder.toStdString()) || QFileInfo(folder).isDir())
            there.append(folder);
    return there;
}

void DeskSettings::addRecentShop(const QString& folder) {
    const bool onServer = storage::isServerAddress(folder.toStdString());
    const QString absolute = onServer ? folder : QDir(folder).absolutePath();
    QStringList recent = recentShops();
    recent.removeAll(absolute);
    recent.prepend(absolute);
    QSettings().setValue(QStringLiteral("recent"), recent.mid(0, kMostRecent));
}

ui::Scheme DeskSettings::scheme() const {
    return QSettings().value(QStringLiteral("scheme")).toString() == QStringLiteral("dark")
               ? ui::Scheme::Dark
               : ui::Scheme::Light;
}

void DeskSettings::setScheme(ui::Scheme scheme) {
    QSettings().setValue(QStringLiteral("scheme"),
                         scheme == ui::Scheme::Dark ? QStringLiteral("dark") : QStringLiteral("light"));
}

QString DeskSettings::person(const QString& shopFolder) const {
    return QSettings().value(keyOf("person", shopFolder)).toString();
}

void DeskSettings::setPerson(const QString& shopFolder, const QString& name) {
    QSettings().setValue(keyOf("person", shopFolder), name);
}

std::optional<core::DistanceUnit> DeskSettings::unit(const QString& shopFolder) const {
    const QString known = QSettings().value(keyOf("unit", shopFolder)).toString();
    if (known == QStringLiteral("mi"))
        return core::DistanceUnit::Miles;
    if (known == QStringLiteral("km"))
        return core::DistanceUnit::Kilometres;
    return std::nullopt;
}

void DeskSettings::setUnit(const QString& shopFolder, core::DistanceUnit unit) {
    QSettings().setValue(keyOf("unit", shopFolder),
                         unit == core::DistanceUnit::Miles ? QStringLiteral("mi") : QStringLiteral("km"));
}

QByteArray DeskSettings::geometry() const {
    return QSettings().value(QStringLiteral("geometry")).toByteArray();
}

void DeskSettings::setGeometry(const QByteArray& geometry) {
    QSettings().setValue(QStringLiteral("geometry"), geometry);
}

} // namespace milehold::app
