// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/desktop/database.h"
#include "app/desktop/session.h"

#include <QObject>
#include <QPointer>

namespace milehold::ui {
class ExportDialog;
class ImportDialog;
class MainWindow;
class RecordTable;
} // namespace milehold::ui

namespace milehold::app {

/// Tables that come into the shop and leave it, from the window.
class ExchangeController : public QObject {
    Q_OBJECT
public:
    ExchangeController(ui::MainWindow& window, Database& database, Session& session,
                       QObject* parent = nullptr);

    ui::ImportDialog* importTable();
    ui::ExportDialog* exportTable();
    /// What the open import dialog reads from.
    void chooseFile(const QString& path);
    /// Writes what the dialog says to a file.
    void exportTo(const QString& path, const ui::ExportDialog& dialog);

signals:
    void said(const QString& note);
    void needsAttention(const QString& sentence);

private:
    void readStart();
    void run(bool trial);
    ui::RecordTable* shownList() const;

    ui::MainWindow& window_;
    Database& database_;
    Session& session_;
    QPointer<ui::ImportDialog> import_;
    QString file_;
};

} // namespace milehold::app
