// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/end_signals.h"

#include <QSocketNotifier>

#include <csignal>
#include <sys/socket.h>
#include <unistd.h>

namespace milehold::app {

namespace {

constexpr int kSignals[] = {SIGTERM, SIGHUP, SIGINT};

/// What the handler writes to; a handler has no other way to reach an object.
volatile std::sig_atomic_t writeEnd = -1;

void tell(int) {
    const char one = 1;
    [[maybe_unused]] const auto written = ::write(static_cast<int>(writeEnd), &one, 1);
}

} // namespace

EndSignals::EndSignals(QObject* parent) : QObject(parent) {
    if (::socketpair(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC | SOCK_NONBLOCK, 0, ends_) != 0)
        return; // the program then ends at once, as it would have without this
    writeEnd = ends_[0];
    auto* notifier = new QSocketNotifier(ends_[1], QSocketNotifier::Read, this);
    connect(notifier, &QSocketNotifier::activated, this, [this] {
        char taken[16];
        while (::read(ends_[1], taken, sizeof taken) > 0) {
        }
        emit asked();
    });
    struct sigaction action = {};
    action.sa_handler = tell;
    action.sa_flags = SA_RESTART;
    sigemptyset(&action.sa_mask);
    for (const int signal : kSignals)
        ::sigaction(signal, &action, nullptr);
}

EndSignals::~EndSignals() {
    for (const int signal : kSignals)
        std::signal(signal, SIG_DFL);
    writeEnd = -1;
    for (const int end : ends_) {
        if (end >= 0)
            ::close(end);
    }
}

} // namespace milehold::app
