// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/files/durable.h"
#include "tests/storage/support/shop_fixture.h"

namespace milehold::test {

TEST(DurableFiles, ABareNameIsAFileOfTheFolderThatTheProcessIsIn) {
    const TemporaryFolder temporary;
    const fs::path before = fs::current_path();
    fs::current_path(temporary.path());
    const auto made = storage::createFile("bare.csv", "a\n");
    const auto again = storage::createFile("bare.csv", "b\n");
    fs::current_path(before);
    EXPECT_OK(made);
    EXPECT_FAILS(again, core::ErrorCode::DiskProblem);
    EXPECT_HOLDS(storage::readFile(temporary.path() / "bare.csv", 10), std::string("a\n"));
}

} // namespace milehold::test
