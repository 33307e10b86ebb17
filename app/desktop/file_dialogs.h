// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QByteArray>
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
/// A file to write, in the documents under `name` unless the person chooses otherwise; blank when the person
/// gave up. The answer ends as `name` does ("calls.pdf": .pdf), and a file of that very name was asked about.
/// `filter`: what files of the kind are called, "Calendar (*.ics)"; made from the ending where it is blank.
QString askWhereToSave(QWidget* parent, const QString& title, const QString& name,
                       const QString& filter = {});
/// Writes a file whole or leaves what is there; what went wrong, blank when it is written.
QString writeFile(const QString& path, const QByteArray& bytes);

} // namespace milehold::app
