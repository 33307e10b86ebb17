// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDialog>
#include <QList>
#include <QString>

namespace milehold::ui {

/// One field that two people left differently.
struct ConflictRow {
    QString field;
    QString yours;
    QString theirs;
};

/// What somebody else saved meanwhile beside what was typed here, field by field. Nothing happens to either
/// before a button says so; closing it goes on with the form as it is.
class ConflictDialog : public QDialog {
    Q_OBJECT
public:
    /// `heading`: "Changed by Mara at 10:42". `keepMine`, `takeTheirs`: what the two buttons say.
    ConflictDialog(const QString& heading, const QList<ConflictRow>& rows, const QString& keepMine,
                   const QString& takeTheirs, QWidget* parent = nullptr);

signals:
    void mineChosen();
    void theirsChosen();
};

} // namespace milehold::ui
