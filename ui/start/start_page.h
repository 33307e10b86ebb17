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
    /// What can be done about a shop that does not open.
    struct Remedies {
        bool restore = false; ///< its newest good backup can be brought back
        bool look = false;    ///< ... or looked at
        bool salvage = false; ///< what is readable of a damaged file can be saved
    };
    /// Why the last try did not work; blank hides it.
    void setTrouble(const QString& sentence, Remedies remedies);
    void setTrouble(const QString& sentence) { setTrouble(sentence, Remedies()); }
    void setBusy(const QString& what);

signals:
    void openWanted(const QString& folder);
    void browseWanted();        ///< the person wants to pick a shop's folder
    void browseForHomeWanted(); ///< ... or the folder in which the new shop is laid
    void createWanted(const QString& folder, const milehold::core::ShopSettings& settings);
    void restoreWanted();
    void lookWanted();
    void salvageWanted();

private:
    QWidget* makeOpenSide();
    QWidget* makeNewSide();
    void create();

    QListWidget* recent_;
    QLineEdit* server_ = nullptr;
    QLabel* trouble_;
    QPushButton* restore_;
    QPushButton* look_;
    QPushButton* salvage_;
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
