// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/settings.h"

#include <QDateTime>
#include <QStringList>
#include <QWidget>

class QLabel;
class QLineEdit;
class QListWidget;
class QPushButton;

namespace milehold::ui {

class FormGrid;
class Segmented;

/// What the program shows while no shop is open: the shops of this desk, and how to start one.
class StartPage : public QWidget {
    Q_OBJECT
public:
    explicit StartPage(QWidget* parent = nullptr);

    /// Folders of shops that were open here before, newest first.
    void setRecent(const QStringList& folders);
    /// Where a new shop is laid unless the person says otherwise.
    void setHome(const QString& folder);
    void setHomePicked(const QString& folder);
    /// Why the last try did not work; blank hides it. `restorable`: a backup of that shop may be brought
    /// back.
    void setTrouble(const QString& sentence, bool restorable = false);
    void setBusy(const QString& what);

signals:
    void openWanted(const QString& folder);
    void browseWanted();        ///< the person wants to pick a shop's folder
    void browseForHomeWanted(); ///< ... or the folder in which the new shop is laid
    void createWanted(const QString& folder, const milehold::core::ShopSettings& settings);
    void restoreWanted();

private:
    QWidget* makeOpenSide();
    QWidget* makeNewSide();
    void create();

    QListWidget* recent_;
    QLineEdit* server_ = nullptr;
    QLabel* trouble_;
    QPushButton* restore_;
    QLabel* busy_;
    FormGrid* form_;
    QLineEdit* name_;
    Segmented* unit_;
    QLineEdit* currency_;
    QLineEdit* home_;
    QPushButton* create_;
};

/// The folder's name of a shop: its name without what a file system may refuse, and `.milehold` behind it.
QString folderNameFor(const QString& shopName);

} // namespace milehold::ui
