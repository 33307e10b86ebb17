// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QObject>

namespace milehold::app {

/// Tells when the system asks the program to end (SIGTERM at a shutdown, SIGHUP, SIGINT), on the window's
/// thread, so that a shop is closed and backed up as when its window is closed. One a process.
class EndSignals : public QObject {
    Q_OBJECT
public:
    explicit EndSignals(QObject* parent = nullptr);
    ~EndSignals() override;

signals:
    void asked();

private:
    int ends_[2] = {-1, -1}; // a handler may do no more than write: the other end is read by the event loop
};

} // namespace milehold::app
