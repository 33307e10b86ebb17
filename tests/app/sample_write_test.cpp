// SPDX-License-Identifier: GPL-3.0-or-later
// The sample on its way through the stores: every rule holds, and what is read is what was written.
#include "core/life/life.h"
#include "sample-shop/sample_shop.h"
#include "storage/shop.h"

#include <QTemporaryDir>

#include <gtest/gtest.h>

#include <algorithm>

namespace milehold::sample {
namespace {

TEST(SampleWrite, KeepsTheWholeBookAsItWasInvented) {
    const QTemporaryDir folder;
    const auto book = generate({.jobs = 120, .seed = 3});
    ASSERT_TRUE(book.has_value());
    auto shop = storage::Shop::create(folder.path().toStdString() + "/sample.milehold", book->settings);
    ASSERT_TRUE(shop.has_value());
    const auto written = write(*book, **shop);
    ASSERT_TRUE(written.has_value()) << written.error().detail;

    for (const auto& wanted : histories(*book)) {
        auto stored = (*shop)->vehicles().history(wanted.vehicle.id);
        ASSERT_TRUE(stored.has_value());
        std::sort(stored->jobs.begin(), stored->jobs.end(),
                  [](const core::Job& a, const core::Job& b) { return a.number < b.number; });
        ASSERT_EQ(stored->jobs.size(), wanted.jobs.size());
        for (std::size_t i = 0; i < wanted.jobs.size(); ++i) {
            core::Job job = stored->jobs[i];
            job.revision = wanted.jobs[i].revision;
            EXPECT_EQ(job, wanted.jobs[i]) << wanted.jobs[i].number;
        }
        EXPECT_EQ(stored->followUps.size(), wanted.followUps.size());
        // The lives are the same whether they come from the values or from the stored records.
        const auto fromValues = core::deriveLives(wanted, book->settings, book->endsOn);
        const auto fromStore = core::deriveLives(*stored, book->settings, book->endsOn);
        ASSERT_TRUE(fromValues.has_value() && fromStore.has_value());
        ASSERT_EQ(fromValues->size(), fromStore->size());
        for (std::size_t i = 0; i < fromValues->size(); ++i) {
            EXPECT_EQ((*fromValues)[i].state, (*fromStore)[i].state);
            EXPECT_EQ((*fromValues)[i].known, (*fromStore)[i].known);
            EXPECT_EQ((*fromValues)[i].until, (*fromStore)[i].until);
        }
    }
    const auto shelf = (*shop)->shelf().load();
    ASSERT_TRUE(shelf.has_value());
    EXPECT_EQ(shelf->parts.size(), book->shelf.parts.size());
    EXPECT_EQ(shelf->paths.size(), kPathCount);
    const auto report = (*shop)->verify(storage::CheckDepth::Full);
    ASSERT_TRUE(report.has_value());
    EXPECT_TRUE(report->sound()) << (report->problems.empty() ? "" : report->problems.front());
    EXPECT_TRUE((*shop)->close().has_value());
}

TEST(SampleWrite, WritesNothingIntoAShopThatHasARecordAlready) {
    const QTemporaryDir folder;
    const auto book = generate({.jobs = 20});
    ASSERT_TRUE(book.has_value());
    auto shop = storage::Shop::create(folder.path().toStdString() + "/sample.milehold", book->settings);
    ASSERT_TRUE(shop.has_value());
    core::Vehicle taken =
        book->vehicles.back(); // its VIN is in use: the last vehicle of the sample will be refused
    taken.id = {};
    taken.id.uuid.bytes[3] = 7;
    taken.family.reset();
    taken.customer.reset();
    ASSERT_TRUE((*shop)->vehicles().save(taken).has_value());
    EXPECT_FALSE(write(*book, **shop).has_value());
    const auto staff = (*shop)->staff().list();
    ASSERT_TRUE(staff.has_value());
    EXPECT_TRUE(staff->empty());
}

} // namespace
} // namespace milehold::sample
