// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/exchange/table_sink.h"
#include "tests/storage/support/shop_fixture.h"

#include <cstdlib>
#include <fstream>
#include <sstream>

namespace milehold::test {

using storage::CellKind;

namespace {

/// What openpyxl, a reader of another hand, finds in the workbook: one line a cell.
std::string asOpenpyxlReads(const std::string& bytes) {
    const TemporaryFolder folder;
    std::ofstream(folder.path() / "book.xlsx", std::ios::binary) << bytes;
    std::ofstream(folder.path() / "read.py")
        << "import openpyxl, sys\n"
           "sheet = openpyxl.load_workbook(sys.argv[1]).active\n"
           "print('sheet', sheet.title, 'frozen', sheet.freeze_panes)\n"
           "for row in sheet.iter_rows():\n"
           "    for cell in row:\n"
           "        if cell.value is not None:\n"
           "            print(cell.coordinate, cell.data_type, repr(cell.value), cell.number_format)\n";
    const std::string command = "/usr/bin/python3 '" + (folder.path() / "read.py").string() + "' '" +
                                (folder.path() / "book.xlsx").string() + "' > '" +
                                (folder.path() / "out").string() + "' 2>&1";
    EXPECT_EQ(std::system(command.c_str()), 0);
    std::ifstream file(folder.path() / "out");
    std::stringstream text;
    text << file.rdbuf();
    return text.str();
}

} // namespace

TEST(TableSink, AWorkbookHoldsNumbersAndDatesAsSuchAndNoFormula) {
    storage::XlsxSink sink("jobs");
    ASSERT_OK(sink.header({{"plate"},
                           {"odometer", CellKind::Number},
                           {"price", CellKind::Number},
                           {"delivered", CellKind::Date},
                           {"vin"}}));
    const std::vector<std::string> first = {"'=HYPERLINK(\"x\")", "48200", "-199.90", "2031-04-09", "00012"};
    const std::vector<std::string> second = {"'@cmd", "80467123 m", "", "", "ü & <b>"};
    ASSERT_OK(sink.row(first));
    ASSERT_OK(sink.row(second));
    ASSERT_OK(sink.finish());
    EXPECT_EQ(asOpenpyxlReads(sink.bytes()),
              "sheet jobs frozen A2\n"
              "A1 s 'plate' General\nB1 s 'odometer' General\nC1 s 'price' General\n"
              "D1 s 'delivered' General\nE1 s 'vin' General\n"
              "A2 s '=HYPERLINK(\"x\")' General\nB2 n 48200 0\nC2 n -199.9 0.00\n"
              "D2 d datetime.datetime(2031, 4, 9, 0, 0) yyyy-mm-dd\nE2 s '00012' General\n"
              "A3 s '@cmd' General\nB3 s '80467123 m' General\nE3 s 'ü & <b>' General\n");
}

TEST(TableSink, ACellThatNoSheetHoldsIsRefusedWithItsPlace) {
    storage::XlsxSink sink("notes");
    ASSERT_OK(sink.header({{"note"}}));
    const std::vector<std::string> tooLong = {std::string(40'000, 'x')};
    const auto refused = sink.row(tooLong);
    EXPECT_FAILS(refused, core::ErrorCode::Unsupported);
    EXPECT_EQ(refused.error().detail.substr(0, 19), "row 2, column note:");
}

TEST(TableSink, CsvIsWrittenAsRfc4180Says) {
    std::ostringstream out;
    storage::CsvSink sink(out);
    ASSERT_OK(sink.header({{"a"}, {"b"}}));
    const std::vector<std::string> cells = {"x,\"y\"", "two\nlines"};
    ASSERT_OK(sink.row(cells));
    ASSERT_OK(sink.finish());
    EXPECT_EQ(out.str(), "a,b\n\"x,\"\"y\"\"\",\"two\nlines\"\n");
}

} // namespace milehold::test
