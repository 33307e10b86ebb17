// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QCoreApplication>
#include <QLabel>

class QTimer;

namespace milehold::ui {

/// "Working it out": shown a tenth of a second after the work began, so that quick work does not flicker.
class BusyLabel : public QLabel {
    Q_DECLARE_TR_FUNCTIONS(BusyLabel)
public:
    explicit BusyLabel(QWidget* parent = nullptr);
    void setBusy(bool busy);

private:
    QTimer* soon_;
};

} // namespace milehold::ui
