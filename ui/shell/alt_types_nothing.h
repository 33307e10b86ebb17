// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QObject>

namespace milehold::ui {

/// Alt with the letter of a greyed-out button does nothing, where Qt would type the letter into the field
/// that has the keyboard. Installed on the application.
class AltTypesNothing : public QObject {
    Q_OBJECT
public:
    using QObject::QObject;
    bool eventFilter(QObject* watched, QEvent* event) override;
};

} // namespace milehold::ui
