// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDateTime>
#include <QDialog>
#include <QList>

class QLabel;
class QPushButton;
class QTreeWidget;

namespace milehold::ui {

/// One backup as a row.
struct BackupRow {
    QString name; ///< its key: the folder's name
    QDateTime at; ///< UTC
    QString reason;
    qint64 jobs = 0;
    qint64 bytes = 0;
    QString warning; ///< blank: nothing odd about it
    friend bool operator==(const BackupRow&, const BackupRow&) = default;
};

/// The backups of a shop, newest first, and what can be done with the chosen one.
class BackupsDialog : public QDialog {
    Q_OBJECT
public:
    explicit BackupsDialog(QWidget* parent = nullptr);

    void setRows(const QList<BackupRow>& rows);
    /// What stands over the list: the last copy on another disk, the last test.
    void setState(const QString& sentence);
    /// What was done or went wrong; blank hides it.
    void setNote(const QString& sentence);
    /// While something is done nothing else can be begun.
    void setBusy(bool busy);
    QString chosen() const;

signals:
    void backUpWanted();
    void restoreWanted(const QString& name); ///< the person was asked and agreed
    void lookWanted(const QString& name);
    void testWanted(const QString& name);
    void copyWanted(const QString& name); ///< to a folder on another disk, yet to be chosen

private:
    void follow();
    void askForRestore();

    QLabel* state_;
    QTreeWidget* list_;
    QLabel* question_;
    QLabel* note_;
    QPushButton* make_;
    QPushButton* restore_;
    QPushButton* sure_;
    QPushButton* look_;
    QPushButton* test_;
    QPushButton* copy_;
    bool busy_ = false;
};

} // namespace milehold::ui
