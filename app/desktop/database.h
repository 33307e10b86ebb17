// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"

#include <QObject>
#include <QPointer>
#include <QString>
#include <QThread>

#include <atomic>
#include <cstdint>
#include <functional>
#include <map>
#include <memory>
#include <type_traits>
#include <utility>

namespace milehold::storage {
class Shop;
}

namespace milehold::app {

/// The one way from the window to the shop's records.
///
/// A thread of its own holds the only connection. Work goes there as a function of the shop and comes back as
/// a value to the window's thread; nothing here ever waits. Work runs in the order in which it was asked for.
class Database : public QObject {
    Q_OBJECT
public:
    using Opener = std::function<core::Result<std::unique_ptr<storage::Shop>>()>;

    explicit Database(QObject* parent = nullptr);
    /// Closes the shop (with its backup) and waits for the thread.
    ~Database() override;

    /// Opens a shop on the database thread; `done` gets the outcome.
    void open(Opener opener, QObject* receiver, std::function<void(core::Result<void>)> done);
    /// Closes the shop; `done` gets the outcome, also of the closing backup.
    void close(QObject* receiver, std::function<void(core::Result<void>)> done);

    /// Asks for work. `work` is called with the open shop on the database thread; `done` with its result on
    /// the window's thread, unless `receiver` is gone by then. Without an open shop `done` gets NotFound.
    template <class Work, class Done> void ask(QObject* receiver, Work work, Done done) {
        using Answer = std::invoke_result_t<Work, storage::Shop&>;
        post([this, guard = QPointer<QObject>(receiver), work = std::move(work),
              done = std::move(done)]() mutable {
            auto answer = std::make_shared<Answer>(shop_ ? work(*shop_) : Answer(noShop()));
            deliver(guard, [answer, done = std::move(done)]() mutable { done(std::move(*answer)); });
        });
    }

    /// As ask(), but a newer call with the same `lane` makes an older one pointless: work not yet started is
    /// passed over, and an answer that arrives late is dropped. For lists that follow typing.
    template <class Work, class Done>
    void askNewest(const QString& lane, QObject* receiver, Work work, Done done) {
        using Answer = std::invoke_result_t<Work, storage::Shop&>;
        auto ticket = newTicket(lane);
        post([this, ticket, guard = QPointer<QObject>(receiver), work = std::move(work),
              done = std::move(done)]() mutable {
            if (ticket.isStale())
                return;
            auto answer = std::make_shared<Answer>(shop_ ? work(*shop_) : Answer(noShop()));
            deliver(guard, [ticket, answer, done = std::move(done)]() mutable {
                if (!ticket.isStale())
                    done(std::move(*answer));
            });
        });
    }

signals:
    /// Records were saved; lists and curves that show them want reading again. On the window's thread.
    void changed();

public:
    /// To be called by whoever saved something, on the window's thread.
    void announceChange() { emit changed(); }
    /// True while work was asked for whose answer has not arrived yet.
    bool isBusy() const { return pending_.load() > 0; }

private:
    struct Ticket {
        std::shared_ptr<std::atomic<std::uint64_t>> newest;
        std::uint64_t number = 0;
        bool isStale() const { return newest->load() != number; }
    };
    Ticket newTicket(const QString& lane);
    void post(std::function<void()> work);
    void deliver(const QPointer<QObject>& receiver, std::function<void()> answer);
    static tl::unexpected<core::Error> noShop();

    std::atomic<int> pending_ = 0;
    QThread thread_;
    QObject* worker_ = nullptr;           // lives on thread_
    std::unique_ptr<storage::Shop> shop_; // touched on thread_ only
    std::map<QString, std::shared_ptr<std::atomic<std::uint64_t>>> lanes_;
};

} // namespace milehold::app
