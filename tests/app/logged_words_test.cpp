// SPDX-License-Identifier: GPL-3.0-or-later
// The words of history and conflict. How a field is stored: `storage/records/tables_*.cpp`.
#include "app/desktop/logged_words.h"
#include "ui/widgets/text.h"

#include <QLocale>

#include <gtest/gtest.h>

namespace milehold::app {
namespace {

core::Uuid uuid(std::uint8_t n) {
    core::Uuid id;
    id.bytes[0] = 0xab;
    id.bytes[15] = n;
    return id;
}

class LoggedWordsTest : public ::testing::Test {
protected:
    void SetUp() override {
        QLocale::setDefault(QLocale(QLocale::English, QLocale::UnitedStates));
        core::Shelf shelf;
        core::PartNumber part;
        part.id.uuid = uuid(1);
        part.number = "TX-114";
        part.revisionLabel = "B";
        shelf.parts = {part};
        core::RepairPath path;
        path.id.uuid = uuid(2);
        path.name = "All phasers";
        shelf.paths = {path};
        words.shelf = std::make_shared<const core::Shelf>(shelf);
        words.staff = {{{uuid(3)}, "Ida Farrowby", true, false, false, true, 1}};
        words.settings.currency = "USD";
    }
    void TearDown() override { QLocale::setDefault(QLocale::c()); }

    std::string word(std::string_view field, const std::string& text) const {
        const auto other = [](std::string_view name, const core::Uuid& key) {
            return ui::toText("the " + std::string(name) + " " + core::toString(key).substr(34));
        };
        QString said = loggedValueWord(field, text, words, other);
        said.replace(QChar(0x00A0), QChar(u' '));
        return ui::toUtf8(said);
    }

    LoggedWords words;
};

TEST_F(LoggedWordsTest, SayDistancesInTheShopsUnitWhateverTheFieldIsCalled) {
    // 50,000 miles of 1609.344 m (international yard and pound agreement, 1959)
    for (const char* field : {"odometer_in", "odometer_out", "odometer", "first_seen", "warranty_distance",
                              "noise_since", "shown", "reset_offset", "default_yearly"})
        EXPECT_EQ(word(field, "80467200"), "50,000 mi") << field;
    words.unit = core::DistanceUnit::Kilometres;
    EXPECT_EQ(word("odometer", "80467200"), "80,467 km");
}

TEST_F(LoggedWordsTest, SayMoneyWithTheDigitsOfTheCurrency) {
    for (const char* field : {"price", "parts_price", "labour_price", "sublet", "tax", "discount",
                              "comeback_cost", "comeback_labour", "comeback_credit", "claim_amount"})
        EXPECT_EQ(word(field, "125050"), "$1,250.50") << field;
    words.settings.currency = "JPY"; // no minor unit; source: ISO 4217
    EXPECT_EQ(word("price", "125050"), "JPY 125,050");
}

TEST_F(LoggedWordsTest, SayYesNoHoursSecondsAndDates) {
    EXPECT_EQ(word("do_not_call", "1"), "yes");
    EXPECT_EQ(word("active", "0"), "no");
    EXPECT_EQ(word("hours", "1050"), "10.5 h");
    EXPECT_EQ(word("rattle_tenths_before", "25"), "2.5 s");
    EXPECT_EQ(word("soak_hours_before", "9"), "9");
    EXPECT_EQ(word("delivered", "2031-04-09"), "4/9/2031");
}

TEST_F(LoggedWordsTest, SayKeysByTheNameTheyStandFor) {
    EXPECT_EQ(word("technician_id", core::toString(uuid(3))), "Ida Farrowby");
    EXPECT_EQ(word("path_id", core::toString(uuid(2))), "All phasers");
    EXPECT_EQ(word("superseded_by", core::toString(uuid(1))), "TX-114 B");
    EXPECT_EQ(word("vehicle_id", core::toString(uuid(9))), "the vehicle_id 09");
}

TEST_F(LoggedWordsTest, SayListsEntryByEntry) {
    const std::string part = core::toString(uuid(1));
    EXPECT_EQ(word("parts", "[[\"" + part + "\",\"1I\",\"L7\",2,4550],[\"" + part + "\",null,\"\",1,null]]"),
              "TX-114 B, 1I, L7, 2, $45.50; TX-114 B, 1");
    EXPECT_EQ(word("lines", R"([["Set timing"],["Oil"]])"), "Set timing; Oil");
    // The key of an entry says nothing; that of its engine does.
    EXPECT_EQ(word("applies", "[[\"" + core::toString(uuid(8)) + "\",\"" + core::toString(uuid(7)) +
                                  "\",2014,null,null,null]]"),
              "the  07, 2014");
    words.betweenEntries = QStringLiteral("\n");
    EXPECT_EQ(word("lines", R"([["Set timing"],["Oil"]])"), "Set timing\nOil");
}

TEST_F(LoggedWordsTest, LeaveWhatAPersonTypedAsItIs) {
    for (const char* typed :
         {"", "0402", "[not a list", "-", "+5", "99999999999999999999", "12 mi", "2031-02-30"})
        EXPECT_EQ(word("note", typed), typed);
    EXPECT_EQ(fieldWord("odometer_out"), QStringLiteral("Odometer out"));
    EXPECT_EQ(fieldWord("path_id"), QStringLiteral("Path"));
    EXPECT_EQ(fieldWord("vin"), QStringLiteral("VIN"));
    EXPECT_EQ(fieldWord(""), QString());
}

} // namespace
} // namespace milehold::app
