// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/draft_store.h"
#include "tests/storage/support/shop_fixture.h"

namespace milehold::test {

using core::ErrorCode;

class Drafts : public EngineTest {};
ON_BOTH_ENGINES(Drafts);

TEST_P(Drafts, TheNewestTextOfAFormOutlivesAProgramThatIsKilled) {
    ASSERT_OK(shop().drafts().keep("job", "first"));
    now += std::chrono::seconds(5);
    ASSERT_OK(shop().drafts().keep("job", oddText()));
    ASSERT_OK(shop().drafts().keep("job/0f6b4c7e", longText()));
    reopen(); // without close()
    EXPECT_HOLDS(shop().drafts().find("job"), (storage::Draft{"job", oddText(), now}));
    EXPECT_EQ(shop().drafts().list()->size(), 2U);
    ASSERT_OK(shop().drafts().drop("job"));
    ASSERT_OK(shop().drafts().drop("job"));
    EXPECT_FAILS(shop().drafts().find("job"), ErrorCode::NotFound);
    EXPECT_EQ(shop().drafts().list()->size(), 1U);
}

TEST_P(Drafts, AreNoChangeOfTheRecords) {
    const auto head = shop().changeLog().head();
    if (!isOnServer()) {
        ASSERT_OK(shop().backUp(storage::BackupReason::OnDemand));
    }
    ASSERT_OK(shop().drafts().keep("job", "text"));
    EXPECT_FALSE(shop().changedSinceBackup());
    EXPECT_HOLDS(shop().changeLog().head(), *head);
}

TEST_P(Drafts, RefuseAFormWithoutAName) {
    EXPECT_FAILS(shop().drafts().keep("", "text"), ErrorCode::InvalidInput);
}

} // namespace milehold::test
