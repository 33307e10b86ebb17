// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/file_dialogs.h"

#include "ui/theme/icons.h"

#include <QAbstractFileIconProvider>
#include <QDir>
#include <QFileDialog>
#include <QSaveFile>
#include <QStandardPaths>

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

QString askWhereToSave(QWidget* parent, const QString& title, const QString& name, const QString& filter) {
    const QDir documents(QStandardPaths::writableLocation(QStandardPaths::DocumentsLocation));
    const QFileInfo start(documents.filePath(name));
    const QString suffix = start.suffix();
    const QString ending = QChar(u'.') + suffix;
    PlainIcons icons;
    QFileDialog dialog(parent, title, start.path(),
                       filter.isEmpty() ? QStringLiteral("%1 (*.%2)").arg(suffix.toUpper(), suffix) : filter);
    dialog.setAcceptMode(QFileDialog::AcceptSave);
    dialog.setFileMode(QFileDialog::AnyFile);
    dialog.setDefaultSuffix(suffix);
    dialog.selectFile(start.fileName());
    for (;;) {
        QString path = ask(dialog, icons);
        if (path.isEmpty() || path.endsWith(ending, Qt::CaseInsensitive))
            return path;
        // The dialog asked about the name as it was typed; with the ending it is another file.
        if (!QFileInfo::exists(path + ending))
            return path + ending;
        dialog.selectFile(QFileInfo(path + ending).fileName());
    }
}

QString writeFile(const QString& path, const QByteArray& bytes) {
    QSaveFile file(path);
    if (file.open(QIODevice::WriteOnly) && file.write(bytes) == bytes.size() && file.commit())
        return {};
    return file.errorString();
}

} // namespace milehold::app
