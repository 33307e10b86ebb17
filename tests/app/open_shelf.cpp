// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/app/open_shelf.h"

#include "app/desktop/shelf_draft.h"
#include "sample-shop/sample_shop.h"
#include "storage/server/server_address.h"
#include "storage/server/setup_server.h"
#include "storage/shop.h"

namespace milehold::tests {

core::Result<std::unique_ptr<storage::Shop>> makeShelfShop(const std::string& where) {
    const auto book = sample::generate({.jobs = 5});
    if (!book)
        return core::failureOf(book);
    auto shop = [&]() -> core::Result<std::unique_ptr<storage::Shop>> {
        if (!storage::isServerAddress(where))
            return storage::Shop::create(where, book->settings);
        if (auto made = storage::makeShopOnServer(where, book->settings); !made)
            return core::failureOf(made);
        return storage::Shop::open(where);
    }();
    if (!shop)
        return shop;
    if (auto written = sample::write(*book, **shop); !written)
        return core::failureOf(written);
    return shop;
}

OpenShelf::OpenShelf(const std::string& where) {
    database.open([where] { return storage::Shop::open(where); }, &database,
                  [this](core::Result<void> outcome) {
                      open_ = true;
                      EXPECT_TRUE(outcome.has_value()) << outcome.error().detail;
                  });
    EXPECT_TRUE(QTest::qWaitFor([this] { return open_; }, 30'000));
    refresh();
    controller = std::make_unique<app::ShelfController>(room, database, session);
    QObject::connect(controller.get(), &app::ShelfController::said, &room,
                     [this](const QString& what) { said = what; });
    QObject::connect(controller.get(), &app::ShelfController::draftsFound, &room,
                     [this](const QStringList& names) { found = names; });
    room.resize(1180, 720);
    room.show();
    EXPECT_TRUE(QTest::qWaitFor([this] { return !database.isBusy(); }, 20'000));
}

void OpenShelf::refresh() {
    auto snapshot = ask([](storage::Shop& shop) { return app::readSnapshot(shop); });
    ASSERT_TRUE(snapshot.has_value()) << snapshot.error().detail;
    session.setSettings(snapshot->settings);
    session.setShelf(std::move(snapshot->shelf));
    session.setStaff(std::move(snapshot->staff));
}

std::size_t OpenShelf::kept() {
    const auto drafts = ask([](storage::Shop& shop) { return shop.drafts().list(); });
    EXPECT_TRUE(drafts.has_value());
    return static_cast<std::size_t>(
        std::ranges::count_if(*drafts, [](const auto& one) { return app::isShelfDraft(one.form); }));
}

} // namespace milehold::tests
