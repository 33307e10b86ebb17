// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDialog>

class QCheckBox;
class QComboBox;

namespace milehold::ui {

/// Which records leave the shop, in which form, and whether people go with them; people stay unless asked.
class ExportDialog : public QDialog {
    Q_OBJECT
public:
    enum class What { ScreenList, Lives, Jobs, Vehicles, Customers, FollowUps, Odometers };

    /// `screenList`: what the list on the screen is called; blank: there is none.
    explicit ExportDialog(const QString& screenList, QWidget* parent = nullptr);

    What what() const;
    void setWhat(What what);
    bool asWorkbook() const;
    bool withPeople() const;

private:
    void showPeopleChoice();

    QComboBox* what_;
    QComboBox* form_;
    QCheckBox* people_;
};

} // namespace milehold::ui
