// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QObject>

namespace milehold::ui {

/// Return presses the button that has the keyboard, as Space does: outside of dialogs Qt leaves it to Space
/// alone. Installed on the application.
class EnterPresses : public QObject {
    Q_OBJECT
public:
    using QObject::QObject;
    bool eventFilter(QObject* watched, QEvent* event) override;
};

} // namespace milehold::ui
