// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/change_log.h"
#include "storage/files/durable.h"
#include "tests/storage/support/shop_fixture.h"

#include <gmock/gmock.h>

#include <array>
#include <random>

namespace milehold::test {

using storage::ChangeAction;

class ChangeLog : public ShopTest {
protected:
    /// Whether the full check of the file, after an edit behind the program's back, finds the log altered.
    bool isFound(const std::string& edit) {
        letGo();
        const fs::path whole = folder().parent_path() / "whole.db";
        fs::copy_file(database(), whole, fs::copy_options::overwrite_existing);
        runOnFile("DROP TRIGGER change_log_no_update; DROP TRIGGER change_log_no_delete;"
                  "DROP TRIGGER change_log_only_appends;" +
                  edit);
        fs::remove(folder() / "store" / "open.mark");
        bool found = true;
        if (auto opened = tryOpen()) {
            const auto report = (*opened)->verify(storage::CheckDepth::Full);
            EXPECT_OK(report);
            found = report && !report->sound();
        }
        fs::copy_file(whole, database(), fs::copy_options::overwrite_existing);
        return found;
    }
};

class LoggedChanges : public EngineTest {};
ON_BOTH_ENGINES(LoggedChanges);

TEST_P(LoggedChanges, SaysWhoChangedWhatWhenAndHow) {
    shop().setWho({technician.id, "counter"});
    now += std::chrono::minutes(5);
    customer.doNotCall = true;
    customer.phones = {"555-0000"};
    customer = *shop().customers().save(customer);
    const auto changes = shop().changeLog().of("customer", customer.id.uuid);
    ASSERT_OK(changes);
    ASSERT_EQ(changes->size(), 2U);
    const auto& change = changes->front();
    EXPECT_EQ(change.action, ChangeAction::Update);
    EXPECT_EQ(change.at, now);
    EXPECT_EQ(change.who, (storage::Who{technician.id, "counter"}));
    ASSERT_EQ(change.fields.size(), 2U);
    EXPECT_EQ(change.fields[0], (storage::FieldChange{"do_not_call", "0", "1", false}));
    EXPECT_EQ(change.fields[1].field, "phones");
    EXPECT_EQ(change.fields[1].before, R"(["+1 (555) 010-4477","555-0199"])");
    EXPECT_EQ(change.fields[1].after, R"(["555-0000"])");
    EXPECT_EQ(changes->back().action, ChangeAction::Insert);
    EXPECT_EQ(changes->back().who.staff, std::nullopt);
    EXPECT_EQ(shop().changeLog().newest(1)->front(), change);
    EXPECT_EQ(shop().changeLog().head()->hash, change.hash);
}

TEST_F(ChangeLog, PersonalValuesStandOutsideTheChain) {
    saved(finishedJob());
    letGo();
    fs::remove(folder() / "store" / "open.mark");
    // What an erasure does: the values and their keys go, the chain stays whole.
    runOnFile("DELETE FROM change_value; DELETE FROM private_salt;");
    reopen();
    EXPECT_TRUE(shop().verify(storage::CheckDepth::Full)->sound());
    const auto changes = shop().changeLog().of("customer", customer.id.uuid);
    ASSERT_OK(changes);
    for (const auto& field : changes->front().fields) {
        if (field.field != "name")
            continue;
        EXPECT_TRUE(field.withheld);
        EXPECT_EQ(field.after, std::nullopt);
    }
    letGo();
    runOnFile("VACUUM;");
    const auto bytes = storage::readFile(database(), 10'000'000).value();
    // The customer's own row still holds the name once; the log holds it nowhere.
    const auto first = bytes.find("Ida Bj");
    ASSERT_NE(first, std::string::npos);
    EXPECT_EQ(bytes.find("Ida Bj", first + 1), std::string::npos);
}

TEST_P(LoggedChanges, IsWholeAfterManyKindsOfChanges) {
    const core::Job job = saved(finishedJob());
    ASSERT_OK(shop().jobs().voidJob(job.id, job.revision, oddText()));
    EXPECT_HOLDS(shop().changeLog().firstBroken(), std::optional<std::int64_t>());
    reopen();
    EXPECT_HOLDS(shop().changeLog().firstBroken(), std::optional<std::int64_t>());
}

TEST_F(ChangeLog, EveryEditOfAnyColumnIsFound) {
    saved(finishedJob());
    const auto rows = shop().changeLog().head()->sequence;
    std::mt19937 random(7); // NOLINT: a fixed seed is the point
    constexpr std::array<const char*, 10> kEdits = {
        "UPDATE change_log SET at = '2031-05-01T12:00:00.126Z' WHERE seq = ",
        "UPDATE change_log SET staff_id = 'x' WHERE seq = ",
        "UPDATE change_log SET station = 'bay 2' WHERE seq = ",
        "UPDATE change_log SET action = 'delete' WHERE seq = ",
        "UPDATE change_log SET table_name = 'jobs' WHERE seq = ",
        "UPDATE change_log SET row_id = '00000000-0000-4000-8000-000000000002' WHERE seq = ",
        "UPDATE change_log SET fields = fields || ' ' WHERE seq = ",
        "UPDATE change_log SET hash_before = hash WHERE seq = ",
        "UPDATE change_log SET hash = replace(hash, substr(hash, 1, 1), 'g') WHERE seq = ",
        "DELETE FROM change_log WHERE seq = "};
    int found = 0;
    int tried = 0;
    for (const char* edit : kEdits) {
        // Not the last row: a cut-off end is what the outside anchor is for.
        const auto at = 1 + static_cast<std::int64_t>(random() % static_cast<unsigned>(rows - 1));
        ++tried;
        found +=
            isFound("PRAGMA foreign_keys = OFF; DELETE FROM change_value; " + (edit + std::to_string(at)))
                ? 1
                : 0;
    }
    EXPECT_EQ(found, tried);
    EXPECT_EQ(tried, 10);
}

TEST_F(ChangeLog, AnEditedPersonalValueIsFound) {
    EXPECT_TRUE(isFound("UPDATE change_value SET after = 'Somebody else' WHERE field = 'name'"));
    EXPECT_TRUE(isFound("UPDATE change_value SET before = 'Something' WHERE field = 'name'"));
}

TEST_F(ChangeLog, ASwapOfTwoRowsIsFound) {
    EXPECT_TRUE(
        isFound("CREATE TABLE swap AS SELECT * FROM change_log WHERE seq IN (2, 3);"
                "UPDATE change_log SET fields = (SELECT fields FROM swap WHERE seq = 5 - change_log.seq), "
                "row_id = (SELECT row_id FROM swap WHERE seq = 5 - change_log.seq) WHERE seq IN (2, 3);"
                "DROP TABLE swap;"));
}

TEST_F(ChangeLog, ACutOffEndIsFoundByTheAnchorInABackup) {
    const auto anchor = shop().backUp(storage::BackupReason::OnDemand);
    ASSERT_OK(anchor);
    letGo();
    fs::remove(folder() / "store" / "open.mark");
    runOnFile("DROP TRIGGER change_log_no_delete; DELETE FROM change_value WHERE seq = (SELECT max(seq) FROM "
              "change_log);"
              "DELETE FROM change_log WHERE seq = (SELECT max(seq) FROM change_log);");
    reopen();
    EXPECT_HOLDS(shop().changeLog().firstBroken(), std::optional<std::int64_t>());
    const auto head = shop().changeLog().head();
    ASSERT_OK(head);
    EXPECT_LT(head->sequence, anchor->chainSequence);
}

} // namespace milehold::test
