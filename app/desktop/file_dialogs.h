// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QString>
#include <QStringList>

class QWidget;

namespace milehold::app {

/// The only way in which this program asks for files. The dialogs show one icon for all files: an icon
/// provider that looks into files would open a shop's database and, on closing it again, drop the locks of
/// this very process.

/// A folder that is there; blank when the person gave up.
QString askForFolder(QWidget* parent, const QString& title, const QString& start);
/// Files that are there, to read; empty when the person gave up.
QStringList askForFiles(QWidget* parent, const QString& title, const QString& start, const QString& filter);
/// A file to write, with this ending; blank when the person gave up.
QString askWhereToSave(QWidget* parent, const QString& title, const QString& start, const QString& filter);

} // namespace milehold::app
