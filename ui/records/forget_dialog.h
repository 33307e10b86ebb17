// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDialog>

namespace milehold::ui {

/// What forgetting a customer takes, and what it leaves.
struct Forgetting {
    QString name;
    int vehicles = 0;
    int jobs = 0;
    int followUps = 0;
    int attachments = 0;
    int drafts = 0;
    QString backupsUntil; ///< a day by the locale
    int jobsInWork = 0;   ///< of the jobs: somebody still waits for them
    bool onServer = false;
};

/// Says what goes and what stays before anything is done; accepted only by the button that says so.
class ForgetDialog : public QDialog {
    Q_OBJECT
public:
    explicit ForgetDialog(const Forgetting& scope, QWidget* parent = nullptr);
};

} // namespace milehold::ui
