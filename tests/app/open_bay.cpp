// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/app/open_bay.h"

#include <QSignalSpy>

namespace milehold::app {

namespace sample = milehold::tests;

namespace {

core::Result<void> fill(storage::Shop& shop) {
    const ui::BayContext context = sample::sampleContext();
    const auto save = [](auto& store, auto record) -> core::Result<void> {
        record.revision = 0;
        const auto saved = store.save(record);
        return saved ? core::Result<void>() : core::Result<void>(core::failureOf(saved));
    };
    for (const auto& person : context.staff)
        if (auto done = save(shop.staff(), person); !done)
            return done;
    for (const auto& family : context.shelf->families)
        if (auto done = save(shop.shelf(), family); !done)
            return done;
    for (auto part = context.shelf->parts.rbegin(); part != context.shelf->parts.rend(); ++part)
        if (auto done = save(shop.shelf(), *part); !done)
            return done;
    for (const auto& calibration : context.shelf->calibrations)
        if (auto done = save(shop.shelf(), calibration); !done)
            return done;
    for (const auto& path : context.shelf->paths)
        if (auto done = save(shop.shelf(), path); !done)
            return done;
    const ui::JobCard card = sample::sampleCard();
    if (auto done = save(shop.customers(), *card.customer); !done)
        return done;
    return save(shop.vehicles(), card.vehicle);
}

} // namespace

Bay::Bay(const std::filesystem::path& folder, bool fresh) {
    const ui::BayContext context = sample::sampleContext();
    bool opened = false;
    database.open(
        [folder, fresh, settings = context.settings]() -> core::Result<std::unique_ptr<storage::Shop>> {
            if (!fresh)
                return storage::Shop::open(folder);
            auto shop = storage::Shop::create(folder, settings);
            if (shop)
                if (const auto filled = fill(**shop); !filled)
                    return core::failureOf(filled);
            return shop;
        },
        &room,
        [&](core::Result<void> outcome) {
            EXPECT_TRUE(outcome.has_value()) << (outcome ? "" : outcome.error().detail);
            opened = true;
        });
    EXPECT_TRUE(QTest::qWaitFor([&] { return opened; }, 10'000));
    QSignalSpy loaded(&loader, &SessionLoader::loaded);
    loader.load();
    EXPECT_TRUE(loaded.wait(10'000));
    session.setWho(sample::kTechnician);
    controller = std::make_unique<BayController>(room, database, session);
    QObject::connect(controller.get(), &BayController::said, [this](const QString& what) { said << what; });
    QObject::connect(controller.get(), &BayController::needsAttention,
                     [this](const QString& what) { problems << what; });
    room.resize(1200, 740);
    room.show();
    room.activateWindow();
    EXPECT_TRUE(QTest::qWaitForWindowActive(&room));
    settle();
}

void Bay::settle() {
    QTest::qWait(30);
    EXPECT_TRUE(QTest::qWaitFor([this] { return !database.isBusy(); }, 10'000));
    QTest::qWait(10);
}

bool Bay::tabTo(const QString& name) {
    for (int i = 0; i < 120; ++i) {
        if (focusName() == name)
            return true;
        key(Qt::Key_Tab);
    }
    return false;
}

core::Result<storage::JobRow> Bay::onlyJob() {
    core::Result<storage::JobRow> answer = core::fail(core::ErrorCode::NotFound, "no answer");
    bool done = false;
    database.ask(
        &room, [](storage::Shop& shop) { return shop.jobs().rows({}); },
        [&](core::Result<std::vector<storage::JobRow>> rows) {
            if (rows && rows->size() == 1)
                answer = rows->front();
            done = true;
        });
    EXPECT_TRUE(QTest::qWaitFor([&] { return done; }, 10'000));
    return answer;
}

std::size_t Bay::draftCount() {
    std::size_t count = 99;
    bool done = false;
    database.ask(
        &room, [](storage::Shop& shop) { return shop.drafts().list(); },
        [&](core::Result<std::vector<storage::Draft>> drafts) {
            if (drafts)
                count = drafts->size();
            done = true;
        });
    EXPECT_TRUE(QTest::qWaitFor([&] { return done; }, 10'000));
    return count;
}

void BayTest::typeAFinishedJob(Bay& bay) {
    bay.room.jobs()->focusList();
    Bay::key(Qt::Key_N);
    bay.settle();
    ASSERT_EQ(Bay::focusName(), QStringLiteral("vehicleSearch"));
    Bay::keys(QStringLiteral("10TVA3E25LB004821")); // what a scanner types
    Bay::key(Qt::Key_Return);
    bay.settle();
    ASSERT_FALSE(bay.room.sheet()->isAskingForVehicle());
    ASSERT_EQ(Bay::focusName(), QStringLiteral("odometerIn"));
    Bay::keys(QStringLiteral("84120"));
    Bay::key(Qt::Key_Tab);
    Bay::keys(QStringLiteral("84126"));
    ASSERT_TRUE(bay.tabTo(QStringLiteral("path")));
    Bay::key(Qt::Key_1); // "All four phasers", the first by name
}

} // namespace milehold::app
