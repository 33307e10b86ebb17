// SPDX-License-Identifier: GPL-3.0-or-later
// A program that is killed loses no answer of a call that it has stored, and nothing half typed of the next
// one.
#include "storage/make_id.h"
#include "tests/faults/children.h"
#include "tests/faults/saver.h"
#include "tests/storage/support/shop_fixture.h"

#include <algorithm>
#include <iostream>
#include <random>
#include <sstream>
#include <unistd.h>

namespace milehold::test {

using core::Distance;

std::string answerNote(std::int64_t mark) {
    return "Quiet every morning, mark " + std::to_string(mark);
}

int answerUntilKilled(const char* folder) {
    auto shop = storage::Shop::open(folder);
    if (!shop)
        return 3;
    const auto job = (*shop)->jobs().findByNumber(1);
    if (!job || !*job)
        return 4;
    const auto before = (*shop)->followUps().ofJob((*job)->id);
    if (!before)
        return 5;
    for (auto mark = static_cast<std::int64_t>(before->size()) + 1;; ++mark) {
        if (!(*shop)->drafts().keep("call/1", answerNote(mark)))
            return 6;
        core::FollowUp told;
        told.id = storage::makeId<core::FollowUpId>();
        told.job = (*job)->id;
        told.date = core::addDays(day(2031, 4, 9), mark);
        told.outcome = core::FollowUpOutcome::Quiet;
        told.odometer = Distance::miles(50'001 + mark);
        told.note = answerNote(mark);
        const auto saved = (*shop)->followUps().save(told);
        if (!saved)
            return 7;
        const std::string line = std::to_string(mark) + " " + core::toString(saved->id.uuid) + "\n";
        if (::write(STDOUT_FILENO, line.data(), line.size()) != static_cast<ssize_t>(line.size()))
            return 8;
    }
}

TEST(KilledProgram, LosesNoAnswerOfACallAndNothingHalfTypedOfOne) {
    const int cycles = timesFrom("MILEHOLD_KILLS", 100);
    const TemporaryFolder temporary;
    const fs::path folder = temporary.path() / "Called.milehold";
    const Bench bench = makeBenchShop(folder);
    {
        auto shop = storage::Shop::open(folder);
        ASSERT_OK(shop);
        ASSERT_OK((*shop)->jobs().save({benchJob(bench, 1), {}, {}}));
        ASSERT_OK((*shop)->close());
    }
    const auto seed = std::random_device()();
    std::mt19937_64 random(seed);
    std::vector<std::pair<std::int64_t, core::FollowUpId>> acknowledged;
    int drafts = 0;
    for (int cycle = 0; cycle < cycles; ++cycle) {
        const auto said = killAfter(startChild({"--answer", folder.string()}),
                                    std::chrono::microseconds(random() % 20'000));
        std::istringstream lines(said.substr(0, said.rfind('\n') + 1));
        std::int64_t mark = 0;
        std::string id;
        while (lines >> mark >> id)
            acknowledged.emplace_back(mark, core::FollowUpId{core::uuidFromString(id).value()});
        ASSERT_FALSE(acknowledged.empty());
        auto shop = storage::Shop::open(folder);
        ASSERT_OK(shop) << "seed " << seed << ", cycle " << cycle;
        const auto last = (*shop)->followUps().find(acknowledged.back().second);
        ASSERT_OK(last) << "seed " << seed << ", cycle " << cycle;
        EXPECT_EQ(last->note, answerNote(acknowledged.back().first));
        // What was typed before the kill: of the last answer that was acknowledged, or of the one after it.
        const auto draft = (*shop)->drafts().find("call/1");
        ASSERT_OK(draft);
        drafts += draft->text == answerNote(acknowledged.back().first) ? 0 : 1;
    }
    int lost = 0;
    {
        auto shop = storage::Shop::open(folder);
        ASSERT_OK(shop);
        for (const auto& [mark, id] : acknowledged) {
            const auto told = (*shop)->followUps().find(id);
            lost += told && told->note == answerNote(mark) && told->odometer == Distance::miles(50'001 + mark)
                        ? 0
                        : 1;
        }
        EXPECT_TRUE((*shop)->verify(storage::CheckDepth::Full)->sound());
        ASSERT_OK((*shop)->close());
    }
    const auto answers = countInFile(folder, "SELECT count(*) FROM follow_up");
    std::cout << cycles << " kills (seed " << seed << "): " << acknowledged.size()
              << " answers acknowledged, " << lost << " lost, " << answers << " stored, " << drafts
              << " kills with the next one half typed\n";
    EXPECT_EQ(lost, 0);
    EXPECT_GE(answers, static_cast<std::int64_t>(acknowledged.size()));
    EXPECT_LE(answers, static_cast<std::int64_t>(acknowledged.size()) + cycles) << "one a kill, at most";
    EXPECT_EQ(countInFile(folder, "SELECT count(*) FROM odometer WHERE source = 'call'"), answers)
        << "an answer and the reading that it brought are one save";
}

} // namespace milehold::test
