// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QFutureWatcher>
#include <QObject>
#include <QtConcurrent>
#include <QThreadPool>

#include <memory>
#include <type_traits>
#include <utility>

namespace milehold::app {

/// Runs `work` on a worker thread and hands its value to `done` on the receiver's thread, unless the receiver
/// is gone by then. (QFuture::then() of Qt 6.4 asserts when its context has gone.)
template <class Work, class Done> void onWorker(QObject* receiver, Work work, Done done) {
    using Answer = std::invoke_result_t<Work>;
    auto* watcher = new QFutureWatcher<Answer>(receiver);
    QObject::connect(watcher, &QFutureWatcherBase::finished, receiver,
                     [watcher, done = std::move(done)]() mutable {
                         watcher->deleteLater();
                         done(watcher->future().takeResult());
                     });
    watcher->setFuture(QtConcurrent::run(std::move(work)));
}

/// Lets go of what a million lives stand in on a worker thread: handing its memory back can take longer than
/// a frame.
template <class Value> void letGo(std::shared_ptr<Value> old) {
    if (old)
        QThreadPool::globalInstance()->start([old = std::move(old)]() mutable { old.reset(); });
}

} // namespace milehold::app
