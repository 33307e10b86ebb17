// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/database.h"

#include "storage/shop.h"

#include <QMetaObject>

namespace milehold::app {

Database::Database(QObject* parent) : QObject(parent), worker_(new QObject) {
    thread_.setObjectName(QStringLiteral("records"));
    worker_->moveToThread(&thread_);
    connect(&thread_, &QThread::finished, worker_, &QObject::deleteLater);
    thread_.start();
}

Database::~Database() {
    // The shop must be closed by the thread that opened it. Quitting from there lets all that was asked for
    // before be done; quitting from here would drop what still waits.
    post([this] {
        shop_.reset();
        thread_.quit();
    });
    thread_.wait();
}

void Database::open(Opener opener, QObject* receiver, std::function<void(core::Result<void>)> done) {
    post([this, guard = QPointer<QObject>(receiver), opener = std::move(opener), done = std::move(done)] {
        shop_.reset();
        auto opened = opener();
        core::Result<void> outcome;
        if (opened)
            shop_ = std::move(*opened);
        else
            outcome = core::failureOf(opened);
        deliver(guard, [outcome, done] { done(outcome); });
    });
}

void Database::close(QObject* receiver, std::function<void(core::Result<void>)> done) {
    post([this, guard = QPointer<QObject>(receiver), done = std::move(done)] {
        core::Result<void> outcome;
        if (shop_)
            outcome = shop_->close();
        shop_.reset();
        deliver(guard, [outcome, done] { done(outcome); });
    });
}

Database::Ticket Database::newTicket(const QString& lane) {
    auto& newest = lanes_[lane];
    if (!newest)
        newest = std::make_shared<std::atomic<std::uint64_t>>(0);
    return {newest, newest->fetch_add(1) + 1};
}

void Database::post(std::function<void()> work) {
    ++pending_;
    QMetaObject::invokeMethod(
        worker_,
        [this, work = std::move(work)] {
            work();
            // Counted down behind the answer that `work` has queued for the window's thread.
            QMetaObject::invokeMethod(
                this, [this] { --pending_; }, Qt::QueuedConnection);
        },
        Qt::QueuedConnection);
}

void Database::deliver(const QPointer<QObject>& receiver, std::function<void()> answer) {
    // The guard is only looked at on the window's thread, where receivers live and die.
    QMetaObject::invokeMethod(
        this,
        [receiver, answer = std::move(answer)] {
            if (receiver)
                answer();
        },
        Qt::QueuedConnection);
}

tl::unexpected<core::Error> Database::noShop() {
    return core::fail(core::ErrorCode::NotFound, "no shop is open");
}

} // namespace milehold::app
