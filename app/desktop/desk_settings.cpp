// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/desk_settings.h"

#include <QCryptographicHash>
#include <QDir>
#include <QFileInfo>
#include <QSettings>

namespace milehold::app {

namespace {

constexpr int kMostRecent = 8;

QString personKey(const QString& shopFolder) {
    const auto hash = QCryptographicHash::hash(shopFolder.toUtf8(), QCryptographicHash::Sha1).toHex();
    return QStringLiteral("person/") + QString::fromLatin1(hash);
}

} // namespace

QStringList DeskSettings::recentShops() const {
    QStringList there;
    const QStringList known = QSettings().value(QStringLiteral("recent")).toStringList();
    for (const QString& folder : known)
        if (QFileInfo(folder).isDir())
            there.append(folder);
    return there;
}

void DeskSettings::addRecentShop(const QString& folder) {
    const QString absolute = QDir(folder).absolutePath();
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
    return QSettings().value(personKey(shopFolder)).toString();
}

void DeskSettings::setPerson(const QString& shopFolder, const QString& name) {
    QSettings().setValue(personKey(shopFolder), name);
}

QByteArray DeskSettings::geometry() const {
    return QSettings().value(QStringLiteral("geometry")).toByteArray();
}

void DeskSettings::setGeometry(const QByteArray& geometry) {
    QSettings().setValue(QStringLiteral("geometry"), geometry);
}

} // namespace milehold::app
