// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/support/bay_sample.h"
#include "ui/bay/job_form.h"

#include <gtest/gtest.h>

namespace milehold::ui {
namespace {

TEST(JobForm, GivesAnUntouchedEmptyJobBackExactly) {
    JobForm form;
    form.setContext(tests::sampleContext());
    form.setCard(JobCard{});
    EXPECT_EQ(form.card(), JobCard{});
    EXPECT_FALSE(form.isEdited());
}

TEST(JobForm, GivesAnUntouchedFullJobBackExactly) {
    JobForm form;
    form.setContext(tests::sampleContext());
    for (int seed = 1; seed < 8; ++seed) {
        const JobCard card{tests::jobWithEverything(seed), tests::vehicleWithEverything(seed),
                           tests::customerWithEverything(seed)};
        form.setCard(card);
        EXPECT_EQ(form.card(), card) << seed;
    }
}

// Property over seeded random values, odd ones included.
TEST(JobForm, GivesAnyUntouchedValueBackExactly) {
    JobForm form;
    form.setContext(tests::sampleContext());
    tests::RandomJobs random(2031);
    for (int i = 0; i < 150; ++i) {
        JobCard card{random.job(), random.vehicle(), std::nullopt};
        if (i % 3 != 0)
            card.customer = random.customer();
        form.setCard(card);
        ASSERT_EQ(form.card().job, card.job) << "job " << i;
        ASSERT_EQ(form.card().vehicle, card.vehicle) << "vehicle " << i;
        ASSERT_EQ(form.card().customer, card.customer) << "customer " << i;
    }
}

TEST(JobForm, KeepsEveryValueThroughAChangeOfUnit) {
    JobForm form;
    BayContext context = tests::sampleContext();
    form.setContext(context);
    tests::RandomJobs random(5);
    for (int i = 0; i < 40; ++i) {
        const JobCard card{random.job(), random.vehicle(), std::nullopt};
        form.setCard(card);
        context.unit = context.unit == core::DistanceUnit::Miles ? core::DistanceUnit::Kilometres
                                                                 : core::DistanceUnit::Miles;
        form.setContext(context);
        ASSERT_EQ(form.card(), card) << i;
        EXPECT_EQ(form.isEdited(), !form.unfinished().empty());
    }
}

} // namespace
} // namespace milehold::ui
