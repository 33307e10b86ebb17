// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDialog>

class QListWidget;
class QTextBrowser;

namespace milehold::ui {

/// The manual: the Markdown pages that travel inside the program, in the order of their file names.
class HelpViewer : public QDialog {
    Q_OBJECT
public:
    explicit HelpViewer(QWidget* parent = nullptr);

    /// A page by its file's name without number and ending: `window` shows `10-window.md`. Blank: the first.
    void showPage(const QString& page);
    /// Names of all pages.
    static QStringList pages();

private:
    void load(const QString& page);

    QListWidget* list_;
    QTextBrowser* text_;
};

} // namespace milehold::ui
