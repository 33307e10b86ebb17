// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/draft_keeper.h"

#include <QTest>

#include <gtest/gtest.h>

namespace milehold::app {
namespace {

TEST(DraftKeeper, TriesAgainWhatCouldNotBeKept) {
    Database database; // without a shop nothing can be kept
    DraftKeeper keeper(database);
    int failures = 0;
    QObject::connect(&keeper, &DraftKeeper::failed, &keeper, [&](const core::Error&) { ++failures; });
    keeper.watch("job/1", [] { return std::string("half typed"); });
    for (const int tries : {1, 2}) {
        keeper.touch();
        keeper.flush();
        EXPECT_TRUE(QTest::qWaitFor([&] { return failures == tries; }, 5'000)) << failures << " of " << tries;
    }
}

} // namespace
} // namespace milehold::app
