// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/file_dialogs.h"

#include "ui/theme/icons.h"

#include <QAbstractFileIconProvider>
#include <QDir>
#include <QFileDialog>

namespace milehold::app {

namespace {

class PlainIcons : public QAbstractFileIconProvider {
public:
    QIcon icon(IconType type) const override {
        return ui::icon(type == Folder ? QStringLiteral("open") : QStringLiteral("note"));
    }
    QIcon icon(const QFileInfo& info) const override { return icon(info.isDir() ? Folder : File); }
    QString type(const QFileInfo& info) const override {
        return info.isDir() ? QFileDialog::tr("Folder") : QFileDialog::tr("File");
    }
};

/// `icons` is not owned by the dialog and must outlive it; a dialog cannot do without.
QString ask(QFileDialog& dialog, PlainIcons& icons) {
    dialog.setOption(QFileDialog::DontUseNativeDialog);
    dialog.setOption(QFileDialog::DontUseCustomDirectoryIcons);
    dialog.setIconProvider(&icons);
    const bool accepted = dialog.exec() == QDialog::Accepted && !dialog.selectedFiles().isEmpty();
    return accepted ? dialog.selectedFiles().constFirst() : QString();
}

} // namespace

QString askForFolder(QWidget* parent, const QString& title, const QString& start) {
    PlainIcons icons;
    QFileDialog dialog(parent, title, start);
    dialog.setFileMode(QFileDialog::Directory);
    dialog.setOption(QFileDialog::ShowDirsOnly);
    return ask(dialog, icons);
}

QStringList askForFiles(QWidget* parent, const QString& title, const QString& start, const QString& filter) {
    PlainIcons icons;
    QFileDialog dialog(parent, title, start, filter);
    dialog.setFileMode(QFileDialog::ExistingFiles);
    return ask(dialog, icons).isEmpty() ? QStringList() : dialog.selectedFiles();
}

QString askWhereToSave(QWidget* parent, const QString& title, const QString& start, const QString& filter) {
    PlainIcons icons;
    QFileDialog dialog(parent, title, QFileInfo(start).path(), filter);
    dialog.setAcceptMode(QFileDialog::AcceptSave);
    dialog.setFileMode(QFileDialog::AnyFile);
    dialog.selectFile(QFileInfo(start).fileName());
    return ask(dialog, icons);
}

} // namespace milehold::app
