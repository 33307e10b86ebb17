// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/exchange/shop_lives.h"
#include "tests/storage/exchange/records_file_fixture.h"

#include <gmock/gmock.h>

namespace milehold::test {

TEST_F(RecordsFile, WhatIsExportedComesBackEqualRecordByRecord) {
    fill();
    std::map<RecordFile, std::string> files;
    for (const auto file : kAll)
        files[file] = exported(file);
    const auto before = shop().vehicles().history(vehicle.id);
    ASSERT_OK(before);
    auto owner = *shop().customers().find(customer.id);
    startOver();
    for (const auto file : kAll) {
        const auto report = import(file, files[file]);
        ASSERT_OK(report);
        EXPECT_TRUE(report->kept) << storage::codeOf(file)
                                  << (report->bad.empty()
                                          ? ""
                                          : report->bad[0].column + ": " + report->bad[0].what);
        EXPECT_EQ(report->added, report->rows);
        EXPECT_GT(report->rows, 0U);
    }
    const auto after = shop().vehicles().history(vehicle.id);
    ASSERT_OK(after);
    EXPECT_TRUE(withoutRevisions(*after) == withoutRevisions(*before));
    owner.revision = 1;
    EXPECT_HOLDS(shop().customers().find(customer.id), owner);
    for (const auto file : kAll)
        EXPECT_EQ(exported(file), files[file]);
    EXPECT_TRUE(shop().verify(storage::CheckDepth::Full)->sound());
}

TEST_F(RecordsFile, TheSameFileTwiceAddsNothingTwice) {
    fill();
    for (const auto file : kAll) {
        const std::string text = exported(file);
        const auto head = shop().changeLog().head();
        const auto report = import(file, text);
        ASSERT_OK(report);
        EXPECT_TRUE(report->kept);
        EXPECT_EQ(report->added, 0U) << storage::codeOf(file);
        EXPECT_EQ(report->changed, 0U);
        EXPECT_EQ(report->there, report->rows);
        EXPECT_HOLDS(shop().changeLog().head(), *head);
    }
}

TEST_F(RecordsFile, AFileFromElsewhereWithoutKeysAddsNothingTwiceEither) {
    const std::pair<RecordFile, const char*> files[] = {
        {RecordFile::Customers, "name,phones\nFenna Kinglake,555 0142\nRufus Inskip,555 0143; 555 0144\n"},
        {RecordFile::Vehicles, "vin,plate,maker,model,model_year,family,customer,customer_phone\n"
                               "11111111111111111,QQ 1,Hollin,Tallow,2001,Corvid V6,Fenna Kinglake,\n"
                               ",QQ 2,Hollin,Tallow,1979,,Rufus Inskip,555 0144\n"},
        {RecordFile::Jobs,
         "repair_order,vin,plate,path,written_up,delivered,odometer_in,odometer_out,technician,"
         "delivery_check,parts,partner_price\n"},
        {RecordFile::Jobs,
         "repair_order,vin,plate,path,written_up,delivered,odometer_in,odometer_out,technician,"
         "delivery_check,parts,parts_price\n"
         "88,11111111111111111,,Both intake phasers,2031-03-01,2031-03-02,40000,40003,Mara Lindqvist,"
         "quiet,PH-2204 | C | B1-IN,199.90\n"},
        {RecordFile::FollowUps, "job,date,outcome,odometer\n1,2031-03-20,quiet,40500\n"},
        {RecordFile::Odometers, "plate,date,odometer\nqq-2,2031-03-01,91000 km\n"}};
    for (const auto& [file, text] : files) {
        const auto first = import(file, text);
        if (std::string_view(text).find("partner_price") != std::string_view::npos) {
            EXPECT_FAILS(first, ErrorCode::InvalidInput);
            EXPECT_THAT(first.error().detail,
                        ::testing::HasSubstr("book.csv:1: column 'partner_price' is unknown"));
            continue;
        }
        ASSERT_OK(first);
        EXPECT_TRUE(first->kept) << (first->bad.empty() ? ""
                                                        : first->bad[0].column + ": " + first->bad[0].what);
        EXPECT_EQ(first->added, first->rows);
        const auto second = import(file, text);
        ASSERT_OK(second);
        EXPECT_EQ(second->there, second->rows) << text;
    }
    const auto found = shop().vehicles().findByVin("11111111111111111");
    ASSERT_OK(found);
    const auto history = shop().vehicles().history((*found)->id);
    ASSERT_OK(history);
    ASSERT_EQ(history->jobs.size(), 1U);
    EXPECT_EQ(history->jobs[0].parts[0].part, part.id);
    EXPECT_EQ(history->jobs[0].partsPrice, core::Money{19'990});
    EXPECT_EQ(history->followUps.size(), 1U);
}

TEST_F(RecordsFile, OneBadRowKeepsTheWholeFileOutAndEachIsNamed) {
    const auto head = shop().changeLog().head();
    const auto report =
        import(RecordFile::Jobs,
               "vin,path,written_up,delivered,odometer_in,odometer_out,technician,hours,kind\n"
               "0TK4RM27XKP042788,Both intake phasers,2031-03-01,2031-03-02,100,101,Mara Lindqvist,1.5,\n"
               "0TK4RM27XKP042788,No such path,1.3.2031,2031-03-02,far,101,Nobody,1.555,wash\n"
               "11111111111111111,Both intake phasers,2031-03-01,,100,,,,\n"
               "0TK4RM27XKP042788,Both intake phasers,2031-03-05,2031-03-02,200,199,Mara Lindqvist,,\n"
               "short,row\n"
               "0TK4RM27XKP042788,Both intake phasers,,,,,,,\n");
    ASSERT_OK(report);
    EXPECT_FALSE(report->kept);
    EXPECT_EQ(report->rows, 6U);
    EXPECT_EQ(report->added, 1U);
    std::vector<std::pair<std::size_t, std::string>> where;
    for (const auto& bad : report->bad) {
        where.emplace_back(bad.line, bad.column);
        EXPECT_FALSE(bad.what.empty());
    }
    EXPECT_THAT(where,
                ::testing::IsSupersetOf(std::vector<std::pair<std::size_t, std::string>>{{3, "path"},
                                                                                         {3, "written_up"},
                                                                                         {3, "odometer_in"},
                                                                                         {3, "technician"},
                                                                                         {3, "hours"},
                                                                                         {3, "kind"},
                                                                                         {4, "vin"},
                                                                                         {5, "delivered"},
                                                                                         {5, "odometer_out"},
                                                                                         {6, ""},
                                                                                         {7, "written_up"}}));
    EXPECT_HOLDS(shop().changeLog().head(), *head);
    EXPECT_TRUE(shop().jobs().rows({})->empty());
    EXPECT_EQ(saved(finishedJob()).number, 1);
}

TEST_F(RecordsFile, AnInvisibleMarkInACellIsNamedByItsRowWhereverItStands) {
    // U+FEFF (Unicode 15, 23.8): Qt drops it at the beginning of a text. Found by fuzzing.
    const auto report = import(RecordFile::Customers, "name,phones,note\nOda Fenwick,,\n\xEF\xBB\xBF"
                                                      "Ida Marlow,,\n");
    ASSERT_OK(report);
    EXPECT_FALSE(report->kept);
    ASSERT_EQ(report->bad.size(), 1U);
    EXPECT_EQ(report->bad[0].line, 3U);
    EXPECT_EQ(report->bad[0].column, "name");
    EXPECT_THAT(report->bad[0].what, ::testing::HasSubstr("U+FEFF"));
    // Where no cell begins with it the store still refuses it, and the error says where.
    const auto listed = import(RecordFile::Customers, "name,phones\nOda Fenwick,555 0101; \xEF\xBB\xBF"
                                                      "555 0102\n");
    ASSERT_FALSE(listed.has_value());
    EXPECT_EQ(listed.error().code, ErrorCode::InvalidInput);
    EXPECT_TRUE(listed.error().detail.starts_with("book.csv:2: ")) << listed.error().detail;
}

TEST_F(RecordsFile, GoodRowsAloneAreKeptWhenThatIsChosen) {
    const std::string text =
        "name,do_not_call\nFenna Kinglake,yes\nRufus Inskip,perhaps\n,no\nAda Quill,no\n";
    const auto refused = import(RecordFile::Customers, text);
    ASSERT_OK(refused);
    EXPECT_FALSE(refused->kept);
    EXPECT_TRUE(shop().customers().search("Fenna", 5)->empty());
    storage::ImportOptions good;
    good.goodRowsOnly = true;
    const auto taken = import(RecordFile::Customers, text, good);
    ASSERT_OK(taken);
    EXPECT_TRUE(taken->kept);
    EXPECT_EQ(taken->added, 2U);
    ASSERT_EQ(taken->bad.size(), 2U);
    EXPECT_EQ(taken->bad[0], (storage::BadRow{3, "do_not_call", "expected yes or no"}));
    EXPECT_EQ(taken->bad[1].line, 4U);
    EXPECT_TRUE(shop().customers().search("Fenna", 5)->front().doNotCall);
    EXPECT_TRUE(shop().customers().search("Rufus", 5)->empty());
    EXPECT_EQ(shop().customers().search("Quill", 5)->size(), 1U);
    const auto again = import(RecordFile::Customers, text, good);
    ASSERT_OK(again);
    EXPECT_EQ(again->there, 2U);
    EXPECT_EQ(again->added, 0U);
}

TEST_F(RecordsFile, AHeaderInOtherWordsIsGuessedAndTheRestLeftOut) {
    const std::vector<std::string> header = {"Client", "Phone Number", "Shoe size", "Do not call"};
    const auto guessed = storage::guessColumns(RecordFile::Customers, header);
    EXPECT_EQ(guessed, (std::vector<std::string>{"name", "phones", "", "do_not_call"}));
    EXPECT_EQ(storage::guessColumns(RecordFile::Vehicles,
                                    {"VIN", "License plate", "Make", "Model", "Year", "Owner"}),
              (std::vector<std::string>{"vin", "plate", "maker", "model", "model_year", "customer"}));
    // "Mileage" is the odometer of a reading and the odometer at arrival of a job.
    EXPECT_EQ(storage::guessColumns(RecordFile::Odometers, {"Mileage"}).front(), "odometer");
    EXPECT_EQ(storage::guessColumns(RecordFile::Jobs, {"Mileage"}).front(), "odometer_in");
    storage::ImportOptions options;
    options.columns = guessed;
    const auto taken =
        import(RecordFile::Customers,
               "Client,Phone Number,Shoe size,Do not call\nFenna Kinglake,555 0142,43,no\n", options);
    ASSERT_OK(taken);
    EXPECT_TRUE(taken->kept);
    EXPECT_EQ(shop().customers().search("Fenna", 5)->front().phones, std::vector<std::string>{"555 0142"});
    options.columns = std::vector<std::string>{"phones", "", "", ""};
    const auto refused =
        import(RecordFile::Customers,
               "Client,Phone Number,Shoe size,Do not call\nFenna Kinglake,555 0142,43,no\n", options);
    EXPECT_FAILS(refused, ErrorCode::InvalidInput);
    EXPECT_THAT(refused.error().detail, ::testing::HasSubstr("column 'name' is missing"));
}

TEST_F(RecordsFile, TheStartOfATableIsThereToLookAt) {
    const auto start = storage::readStart(storage::bytesOf("a,b\n1,2\n3,4\n5,6\n"), "book.csv", 2);
    ASSERT_OK(start);
    EXPECT_EQ(start->header, (std::vector<std::string>{"a", "b"}));
    EXPECT_EQ(start->rows, (std::vector<std::vector<std::string>>{{"1", "2"}, {"3", "4"}}));
    EXPECT_FAILS(storage::readStart(storage::bytesOf(""), "book.csv", 2), ErrorCode::InvalidInput);
}

TEST_F(RecordsFile, ADryRunTriesEverythingAndKeepsNothing) {
    const auto head = shop().changeLog().head();
    const auto report =
        import(RecordFile::Customers, "name\nFenna Kinglake\n", {.dryRun = true, .update = false});
    ASSERT_OK(report);
    EXPECT_EQ(report->added, 1U);
    EXPECT_FALSE(report->kept);
    EXPECT_TRUE(report->bad.empty());
    EXPECT_HOLDS(shop().changeLog().head(), *head);
    EXPECT_TRUE(shop().customers().search("Fenna", 5)->empty());
}

TEST_F(RecordsFile, ARowThatDiffersFromItsRecordReplacesItOnlyWhenTold) {
    const std::string text = "id,name,phones\n" + core::toString(customer.id.uuid) + ",Ida Anders,555 0100\n";
    const auto refused = import(RecordFile::Customers, text);
    ASSERT_OK(refused);
    ASSERT_EQ(refused->bad.size(), 1U);
    EXPECT_EQ(refused->bad[0].column, "id");
    EXPECT_HOLDS(shop().customers().find(customer.id), customer);
    const auto taken = import(RecordFile::Customers, text, {.dryRun = false, .update = true});
    ASSERT_OK(taken);
    EXPECT_EQ(taken->changed, 1U);
    EXPECT_EQ(shop().customers().find(customer.id)->name, "Ida Anders");
}

TEST_F(RecordsFile, AFileThatIsNoTableOfThisKindIsRefusedAsAWhole) {
    for (const auto& [text, words] : std::vector<std::pair<std::string, std::string>>{
             {"", "book.csv"},
             {"nme\nx\n", "column 'nme' is unknown; expected some of id, name"},
             {"phones\n1\n", "column 'name' is missing"},
             {"name,name\na,b\n", "column 'name' stands twice"},
             {"name\n\"open\n", "book.csv:2"},
             {"name\n\xff\xfe\n", "book.csv:2"}}) {
        const auto refused = import(RecordFile::Customers, text);
        EXPECT_FAILS(refused, ErrorCode::InvalidInput);
        EXPECT_THAT(refused.error().detail, ::testing::HasSubstr(words));
    }
    EXPECT_EQ(shop().customers().search("i", 10)->size(), 1U);
}

TEST_F(RecordsFile, AnAnonymousExportNamesNobody) {
    fill();
    for (const auto file :
         {RecordFile::Vehicles, RecordFile::Jobs, RecordFile::FollowUps, RecordFile::Odometers}) {
        const std::string text = exported(file, true);
        for (const std::string& secret :
             {customer.name, vehicle.vin, vehicle.plate, std::string("comma"), std::string("DROP TABLE"),
              std::string("555 "), std::string("typed twice")})
            EXPECT_EQ(text.find(secret), std::string::npos) << storage::codeOf(file) << ": " << secret;
    }
    std::ostringstream out;
    EXPECT_FAILS(storage::exportRecords(shop(), RecordFile::Customers, out, {true}), ErrorCode::Unsupported);
    EXPECT_EQ(shop().changeLog().newest(1)->front().action, storage::ChangeAction::Export);
}

TEST_F(RecordsFile, AnExportIsLoggedAndCallsForNoBackup) {
    ASSERT_OK(shop().backUp(storage::BackupReason::OnDemand));
    const auto before = shop().changeLog().head();
    exported(RecordFile::Vehicles);
    EXPECT_EQ(shop().changeLog().head()->sequence, before->sequence + 1);
    EXPECT_FALSE(shop().changedSinceBackup());
    saved(finishedJob());
    EXPECT_TRUE(shop().changedSinceBackup());
}

TEST_F(RecordsFile, LivesOfAShopAreALivesTable) {
    fill();
    const storage::ShopLivesOptions options{.today = day(2031, 5, 1)};
    const auto table = storage::livesFromShop(shop(), options);
    ASSERT_OK(table);
    ASSERT_EQ(table->lives.size(), 2U); // the voided job is no life
    EXPECT_EQ(table->lives.groupNames, std::vector<std::string>{path.name});
    EXPECT_OK(core::validate(table->lives));
    EXPECT_FALSE(table->lives.hasIntervals()) << "a comeback stands where it was seen";
    const auto kept =
        storage::livesFromShop(shop(), {.today = day(2031, 5, 1), .intervals = core::Intervals::Keep});
    ASSERT_OK(kept);
    EXPECT_TRUE(kept->lives.hasIntervals()) << "nobody heard it begin";
    std::ostringstream out;
    EXPECT_HOLDS(storage::exportLives(shop(), options, out), 2U);
    const std::string text = out.str();
    EXPECT_EQ(text.find(vehicle.vin), std::string::npos);
    // The table is the shop's own in both ways of reading it.
    const auto seen = storage::readLivesTable(storage::bytesOf(text), "lives.csv", {});
    ASSERT_OK(seen);
    EXPECT_EQ(seen->lives.miles, table->lives.miles);
    EXPECT_FALSE(seen->lives.hasIntervals());
    storage::LivesTableOptions asIntervals;
    asIntervals.keepIntervals = true;
    const auto read = storage::readLivesTable(storage::bytesOf(text), "lives.csv", asIntervals);
    ASSERT_OK(read);
    EXPECT_EQ(read->lives.miles, kept->lives.miles);
    EXPECT_EQ(read->lives.groupNames, table->lives.groupNames);
    for (std::size_t i = 0; i < 2; ++i) {
        EXPECT_EQ(read->lives.untilOf(i), kept->lives.untilOf(i));
        EXPECT_EQ(read->lives.endNames[read->lives.end[i]], table->lives.endNames[table->lives.end[i]]);
    }
    EXPECT_EQ(text.find(",entered,days,"), std::string::npos) << "days only when they are asked for";
    std::ostringstream withDays;
    EXPECT_HOLDS(storage::exportLives(shop(), {.today = day(2031, 5, 1), .days = true}, withDays), 2U);
    EXPECT_THAT(withDays.str(), ::testing::HasSubstr(",entered,days,"));
    const auto wrong = storage::livesFromShop(shop(), {.today = day(2031, 5, 1), .by = "colour"});
    EXPECT_FAILS(wrong, ErrorCode::InvalidInput);
    EXPECT_THAT(wrong.error().detail, ::testing::HasSubstr("expected one of path"));
}

TEST_F(RecordsFile, ACallThatAFormWouldAskAgainAboutIsLeftOutWithItsReason) {
    fill();
    const auto report = import(RecordFile::FollowUps,
                               "job,date,outcome,odometer\n"
                               "2,2031-04-25,quiet,900000\n" // a jump above 250 miles a day
                               "2,2031-04-26,quiet,12\n"     // less than the job itself
                               "2,2031-05-28,quiet,51000\n"  // still to come
                               "2,2031-04-27,quiet,51200\n",
                               {.goodRowsOnly = true});
    ASSERT_OK(report);
    EXPECT_EQ(report->rows, 4U);
    EXPECT_EQ(report->added, 1U);
    ASSERT_EQ(report->bad.size(), 3U);
    EXPECT_EQ(report->bad[0].line, 2U);
    EXPECT_EQ(report->bad[0].column, "odometer");
    EXPECT_EQ(report->bad[1].line, 3U);
    EXPECT_EQ(report->bad[2].column, "date");
}

} // namespace milehold::test
