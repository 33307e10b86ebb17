// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDialog>

namespace milehold::ui {

/// Every key that the window knows, on one sheet.
class ShortcutsSheet : public QDialog {
    Q_OBJECT
public:
    struct Key {
        QString keys;
        QString does;
    };
    struct Group {
        QString title;
        QList<Key> keys;
    };
    explicit ShortcutsSheet(const QList<Group>& groups, QWidget* parent = nullptr);
};

} // namespace milehold::ui
