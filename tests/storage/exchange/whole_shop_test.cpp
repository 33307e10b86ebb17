// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/attachment_store.h"
#include "storage/exchange/csv_rows.h"
#include "storage/exchange/table_sink.h"
#include "storage/exchange/whole_shop.h"
#include "tests/storage/exchange/records_file_fixture.h"

#include <gmock/gmock.h>

#include <fstream>
#include <set>

namespace milehold::test {

/// All that an export of everything writes, by the names of its files.
std::map<std::string, std::string> textsOf(const fs::path& folder) {
    std::map<std::string, std::string> texts;
    for (const auto& entry : fs::recursive_directory_iterator(folder)) {
        if (!entry.is_regular_file())
            continue;
        std::ifstream file(entry.path(), std::ios::binary);
        std::stringstream text;
        text << file.rdbuf();
        texts[fs::relative(entry.path(), folder).string()] = text.str();
    }
    return texts;
}

TEST_F(RecordsFile, AWholeShopComesBackEqualRecordByRecord) {
    fill();
    core::PartNumber newer = part;
    newer.id = {};
    newer.revision = 0;
    newer.revisionLabel = "D";
    newer = *shop().shelf().save(newer);
    part.supersededBy = newer.id;
    part = *shop().shelf().save(part);
    core::OdometerReading swapped;
    swapped.vehicle = vehicle.id;
    swapped.date = day(2031, 4, 21);
    swapped.shown = Distance::miles(12);
    swapped.resetOffset = Distance::miles(50'901);
    ASSERT_OK(shop().vehicles().saveOdometer(swapped));
    const TemporaryFolder place;
    const auto written = storage::exportWhole(shop(), place.path() / "book");
    ASSERT_OK(written);
    EXPECT_GT(*written, 15U);
    EXPECT_EQ(shop().changeLog().newest(1)->front().table, "everything");
    EXPECT_FAILS(storage::exportWhole(shop(), place.path() / "book"), ErrorCode::InvalidInput);
    auto before = shop().vehicles().history(vehicle.id);
    const auto shelf = shop().shelf().load();

    auto other = storage::Shop::create(place.path() / "Other.milehold", someSettings(),
                                       {.clock = [this] { return now; }});
    ASSERT_OK(other);
    const auto taken = storage::importWhole(place.path() / "book", **other);
    ASSERT_OK(taken);
    EXPECT_EQ(*taken, *written);
    // Every record of every table, by the text of its fields; and through the stores.
    ASSERT_OK(storage::exportWhole(**other, place.path() / "again"));
    const auto first = textsOf(place.path() / "book");
    EXPECT_EQ(first.size(), 14U);
    EXPECT_EQ(textsOf(place.path() / "again"), first);
    const auto after = (*other)->vehicles().history(vehicle.id);
    ASSERT_OK(after);
    EXPECT_TRUE(withoutRevisions(*after) == withoutRevisions(*before));
    EXPECT_EQ((*other)->shelf().load()->parts.size(), shelf->parts.size());
    // The next job goes on counting.
    core::Job next = finishedJob(day(2031, 5, 1), 60'000);
    const auto saved = (*other)->jobs().save({next, {}, {}});
    ASSERT_OK(saved);
    EXPECT_EQ(saved->job.number, 4);
    EXPECT_FAILS(storage::importWhole(place.path() / "book", **other), ErrorCode::InvalidInput);
}

/// A file of a whole shop without some of its columns.
std::string withoutColumns(const std::string& text, const std::set<std::string>& gone) {
    storage::CsvRows rows(storage::bytesOf(text), "job.csv");
    std::ostringstream out;
    storage::CsvSink sink(out);
    std::vector<bool> keep;
    while (rows.next().value()) {
        const bool isHeader = keep.empty();
        std::vector<std::string> cells;
        for (std::size_t i = 0; i < rows.cells().size(); ++i) {
            if (isHeader)
                keep.push_back(!gone.contains(std::string(rows.cells()[i])));
            if (keep[i])
                cells.emplace_back(rows.cells()[i]);
        }
        std::vector<storage::TableColumn> header;
        for (const auto& cell : cells)
            header.push_back({cell});
        EXPECT_OK(isHeader ? sink.header(header) : sink.row(cells));
    }
    EXPECT_OK(sink.finish());
    return out.str();
}

TEST_F(RecordsFile, AWholeShopThatAnOlderProgramWroteIsTakenWithoutTheColumnsThatCameLater) {
    fill();
    const TemporaryFolder place;
    ASSERT_OK(storage::exportWhole(shop(), place.path() / "book"));
    auto texts = textsOf(place.path() / "book");
    const auto rewrite = [&](const char* name, const std::set<std::string>& gone) {
        std::ofstream(place.path() / "book" / name) << withoutColumns(texts[name], gone);
    };
    rewrite("follow_up.csv", {"call_on", "void_reason"});
    rewrite("job.csv", {"comeback_labour", "comeback_parts", "comeback_rental", "comeback_towing",
                        "comeback_goodwill", "comeback_credit", "claim_state", "claim_amount"});
    auto other = storage::Shop::create(place.path() / "Other.milehold", someSettings());
    ASSERT_OK(other);
    ASSERT_OK(storage::importWhole(place.path() / "book", **other));
    auto wanted = withoutRevisions(*shop().vehicles().history(vehicle.id));
    for (auto& job : wanted.jobs) {
        job.comebackCosts = {};
        job.claimState = core::ClaimState::None;
        job.claimAmount.reset();
    }
    for (auto& call : wanted.followUps) {
        call.callOn.reset();
        call.voidReason.clear();
    }
    EXPECT_TRUE(withoutRevisions(*(*other)->vehicles().history(vehicle.id)) == wanted);
    // A column that every export has may not be missing.
    rewrite("job.csv", {"void_reason"});
    auto third = storage::Shop::create(place.path() / "Third.milehold", someSettings());
    ASSERT_OK(third);
    EXPECT_FAILS(storage::importWhole(place.path() / "book", **third), ErrorCode::InvalidInput);
}

TEST_F(RecordsFile, AWholeShopWithOneBadCellIsNotTakenAtAll) {
    fill();
    const TemporaryFolder place;
    ASSERT_OK(storage::exportWhole(shop(), place.path() / "book"));
    auto text = textsOf(place.path() / "book")["job.csv"];
    const auto at = text.find("2031-04-09");
    ASSERT_NE(at, std::string::npos);
    text.replace(at, 10, "2031-02-30");
    std::ofstream(place.path() / "book" / "job.csv") << text;
    auto other = storage::Shop::create(place.path() / "Other.milehold", someSettings());
    ASSERT_OK(other);
    const auto refused = storage::importWhole(place.path() / "book", **other);
    EXPECT_FAILS(refused, ErrorCode::InvalidInput);
    EXPECT_THAT(refused.error().detail, ::testing::HasSubstr("job.csv:"));
    EXPECT_TRUE((*other)->staff().list()->empty());
    EXPECT_TRUE((*other)->customers().search("", 5)->empty());
}

namespace {

std::string photo(std::size_t size, char letter) {
    return "\x89PNG\r\n\x1A\n" + std::string(size, letter);
}

fs::path write(const fs::path& file, const std::string& bytes) {
    std::ofstream(file, std::ios::binary) << bytes;
    return file;
}

} // namespace

/// Attachments of a shop in a folder and of one on a server.
class WholeShopFiles : public EngineTest {
protected:
    void SetUp() override {
        EngineTest::SetUp();
        job = saved(finishedJob());
        const auto large = photo(700'000, 'x');
        ASSERT_OK(storage::attachmentsOf(shop()).add(job.id, write(place.path() / "a.png", large),
                                                     "=before, \"work\""));
        ASSERT_OK(storage::attachmentsOf(shop()).add(job.id, write(place.path() / "b.png", photo(9, 'y')),
                                                     "after"));
        const core::Job twin = saved(finishedJob(day(2031, 4, 10), 50'100));
        ASSERT_OK(
            storage::attachmentsOf(shop()).add(twin.id, place.path() / "a.png", "the same on another job"));
        ASSERT_OK(storage::exportWhole(shop(), book()));
    }
    fs::path book() const { return place.path() / "book"; }
    core::Result<std::unique_ptr<storage::Shop>> taken() {
        auto other = storage::Shop::create(place.path() / "Other.milehold", someSettings());
        if (!other)
            return other;
        if (auto read = storage::importWhole(book(), **other); !read)
            return core::failureOf(read);
        return other;
    }
    core::Job job;
    TemporaryFolder place;
};

TEST_P(WholeShopFiles, ComeBackEqualFileByFile) {
    const auto all = storage::attachmentsOf(shop()).all();
    ASSERT_OK(all);
    ASSERT_EQ(all->size(), 3U);
    const auto first = textsOf(book());
    EXPECT_EQ(first.size(), 14U + 2U) << "a content is there once";
    auto other = taken();
    ASSERT_OK(other);
    EXPECT_HOLDS(storage::attachmentsOf(**other).all(), *all);
    for (const auto& one : *all) {
        const auto copy = storage::attachmentsOf(**other).copyToRead(one.id, place.path());
        ASSERT_OK(copy);
        std::ifstream file(*copy, std::ios::binary);
        std::stringstream bytes;
        bytes << file.rdbuf();
        EXPECT_EQ(bytes.str(), one.name == "after" ? photo(9, 'y') : photo(700'000, 'x'));
    }
    ASSERT_OK(storage::exportWhole(**other, place.path() / "again"));
    EXPECT_TRUE(textsOf(place.path() / "again") == first);
    EXPECT_TRUE((*other)->verify(storage::CheckDepth::Full)->sound());
}

TEST_P(WholeShopFiles, OneThatIsMissingOrChangedKeepsTheShopOut) {
    const auto hash = storage::attachmentsOf(shop()).all()->front().sha256;
    const fs::path file = book() / "attachments" / hash.substr(0, 2) / hash;
    fs::permissions(file, fs::perms::owner_all);
    const bool small = fs::file_size(file) < 1'000;
    write(file, photo(small ? 9 : 700'000, 'z')); // of the same size
    auto changed = taken();
    EXPECT_FAILS(changed, ErrorCode::InvalidInput);
    EXPECT_THAT(changed.error().detail, ::testing::HasSubstr("attachment.csv:"));
    EXPECT_THAT(changed.error().detail, ::testing::HasSubstr("not what was kept"));
    fs::remove_all(place.path() / "Other.milehold");
    fs::remove(file);
    EXPECT_FAILS(taken(), ErrorCode::InvalidInput);
    fs::remove_all(place.path() / "Other.milehold");
    // A row that names a path instead of a hash reaches no file.
    auto rows = textsOf(book())["attachment.csv"];
    rows.replace(rows.find(hash), hash.size(), "../../../../../../../../../../etc/passwd");
    write(book() / "attachment.csv", rows);
    EXPECT_FAILS(taken(), ErrorCode::InvalidInput);
}

ON_BOTH_ENGINES(WholeShopFiles);

} // namespace milehold::test
