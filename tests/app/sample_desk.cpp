// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/app/sample_desk.h"

#include "sample-shop/sample_shop.h"
#include "storage/shop.h"

#include <QTest>

namespace milehold::tests {

namespace {

constexpr int kPatienceMs = 60'000;

core::Date bookEnd() {
    return sample::SampleOptions().endsOn;
}

core::Result<std::unique_ptr<storage::Shop>> makeShop(const std::filesystem::path& folder) {
    sample::SampleOptions options;
    options.jobs = 120;
    const auto book = sample::generate(options);
    if (!book)
        return core::failureOf(book);
    auto shop = storage::Shop::create(folder, book->settings);
    if (!shop)
        return shop;
    if (auto written = sample::write(*book, **shop); !written)
        return core::failureOf(written);
    return shop;
}

} // namespace

SampleDesk::SampleDesk()
    : database_(std::make_unique<app::Database>()), session_(std::make_unique<app::Session>(&bookEnd)),
      saves_(std::make_unique<app::SaveHistory>(*database_)),
      loader_(std::make_unique<app::SessionLoader>(*database_, *session_)) {}

void SampleDesk::SetUp() {
    ASSERT_TRUE(folder_.isValid());
    const std::filesystem::path path =
        std::filesystem::path(folder_.path().toStdString()) / "Sample.milehold";
    bool loaded = false;
    QObject::connect(
        loader_.get(), &app::SessionLoader::loaded, loader_.get(), [&] { loaded = true; },
        Qt::SingleShotConnection); // later loads must not write to this frame
    std::optional<core::Result<void>> opened;
    database_->open([path] { return makeShop(path); }, database_.get(),
                    [&](core::Result<void> outcome) {
                        opened = std::move(outcome);
                        loader_->load();
                    });
    ASSERT_TRUE(waitFor([&] { return loaded; }));
    ASSERT_TRUE(opened->has_value()) << opened->error().detail;
    ASSERT_FALSE(session_->lives()->empty());
}

bool SampleDesk::waitFor(const std::function<bool()>& condition) {
    return QTest::qWaitFor(condition, kPatienceMs);
}

} // namespace milehold::tests
