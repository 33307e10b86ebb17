// SPDX-License-Identifier: GPL-3.0-or-later
// A table that is wrong is refused with its place, what is wrong and what was expected; exit 2, nothing on
// standard output.
#include "tests/contract/run_cli.h"

#include <gtest/gtest.h>

#include <sys/stat.h>
#include <unistd.h>

namespace milehold::cli_tests {
namespace {

using namespace std::string_literals;

// What `curve` says of a table on standard input, without the name of the program.
std::string refusal(const std::string& table, const std::vector<std::string>& command = {"curve"}) {
    std::vector<std::string> arguments = command;
    arguments.insert(arguments.end(), {"--csv", "-", "--format", "json"});
    const Answer answer = run(arguments, table);
    EXPECT_TRUE(isRefused(answer, 2)) << answer.exitCode << " " << answer.err << answer.out.substr(0, 100);
    return answer.err.size() > 14 ? answer.err.substr(14, answer.err.size() - 15) : answer.err;
}

TEST(BadTable, ThatIsEmpty) {
    EXPECT_EQ(refusal(""),
              "standard input:1: the table is empty; expected a header row with the columns miles and end");
    EXPECT_EQ(refusal("\xEF\xBB\xBF\n\n"),
              "standard input:1: the table is empty; expected a header row with the columns miles and end");
}

TEST(BadTable, WithAHeaderOnly) {
    EXPECT_EQ(refusal("miles,end\n"),
              "standard input:2: the table has a header and no lives; expected at least one row");
}

TEST(BadTable, WithTheWrongHeader) {
    EXPECT_EQ(
        refusal("distance,end\n5,holding\n"),
        "standard input:1: column miles is missing; expected it in the header, which has 'distance', 'end'");
    EXPECT_EQ(
        refusal("Miles,end\n5,holding\n"),
        "standard input:1: column miles is missing; expected it in the header, which has 'Miles', 'end'");
    EXPECT_EQ(refusal("miles;end\n5;holding\n"),
              "standard input:1: column miles is missing; expected it in the header, which has 'miles;end'");
    EXPECT_EQ(refusal("miles,end,miles\n5,holding,5\n"),
              "standard input:1: column 'miles' stands twice in the header; expected each name once");
}

TEST(BadTable, WithRaggedRows) {
    EXPECT_EQ(refusal("miles,end\n5,holding\n6\n"),
              "standard input:3: the row has 1 cell; expected 2 as in the header");
    EXPECT_EQ(refusal("miles,end\n5,holding,\n"),
              "standard input:2: the row has 3 cells; expected 2 as in the header");
}

TEST(BadTable, WithMilesThatAreNone) {
    EXPECT_EQ(refusal("miles,end\n5,holding\n-3,came-back\n"),
              "standard input:3: column miles: '-3' is negative; expected a number of 0 or more");
    for (const char* const cell : {"abc", "1,5", "5 mi", "0x10", "1e", "--1", "1.2.3", "+5", "five"})
        EXPECT_EQ(refusal("miles,end\n\""s + cell + "\",holding\n"),
                  "standard input:2: column miles: '"s + cell +
                      "' is not a number; expected a number of 0 or more");
    for (const char* const cell : {"inf", "nan", "-inf", "1e999"})
        EXPECT_EQ(refusal("miles,end\n"s + cell + ",holding\n"),
                  "standard input:2: column miles: '"s + cell +
                      "' is not a finite number; expected a number of 0 or more");
    EXPECT_EQ(refusal("miles,end\n,holding\n"),
              "standard input:2: column miles: the cell is empty; expected a number of 0 or more");
}

TEST(BadTable, WithAnEndThatIsNone) {
    EXPECT_EQ(refusal("miles,end\n5,\n"),
              "standard input:2: column end: the cell is empty; expected came-back, holding or "
              "the name of another end");
    EXPECT_EQ(refusal("miles,end\n5, came-back\n"),
              "standard input:2: column end: ' came-back' has blanks around it; expected the bare word");
}

TEST(BadTable, WithABrokenInterval) {
    EXPECT_EQ(refusal("miles,end,until\n5,came-back,5\n"),
              "standard input:2: column until: '5' is not above miles '5'; expected a larger number, or an "
              "empty cell");
    EXPECT_EQ(refusal("miles,end,until\n5,came-back,3\n"),
              "standard input:2: column until: '3' is not above miles '5'; expected a larger number, or an "
              "empty cell");
    EXPECT_EQ(
        refusal("miles,end,until\n5,holding,9\n"),
        "standard input:2: column until: is '9' on a life that did not come back; expected an empty cell");
}

// Column last_quiet, as `export lives` writes it beside a comeback that nobody heard begin.
TEST(BadTable, WithALastQuietThatIsNone) {
    const auto of = [](const std::string& rest) { return "miles,end,last_quiet,entry\n" + rest + "\n"; };
    EXPECT_EQ(
        refusal(of("5,holding,3,")),
        "standard input:2: column last_quiet: is '3' on a life that did not come back; expected an empty "
        "cell");
    for (const char* const cell : {"5", "7", "-1"})
        EXPECT_EQ(refusal(of("5,came-back,"s + cell + ",")),
                  "standard input:2: column last_quiet: '"s + cell +
                      "' is not between 0 and miles '5'; expected a number below miles, or an empty cell");
    EXPECT_EQ(refusal(of("5,came-back,2,2")),
              "standard input:2: column last_quiet: '2' is not above entry; expected a larger number, or an "
              "empty cell");
    EXPECT_EQ(
        refusal("miles,end,until,last_quiet\n5,came-back,9,3\n"),
        "standard input:2: column last_quiet: is '3' beside a cell in column until; expected one of the "
        "two to be empty");
    EXPECT_EQ(refusal(of("5,came-back,nan,")).find("standard input:2: column last_quiet: 'nan' is not"), 0U);
}

TEST(BadTable, WithABrokenEntry) {
    EXPECT_EQ(refusal("miles,end,entry\n5,holding,5\n"),
              "standard input:2: column entry: '5' is not below miles '5'; expected a smaller number");
    EXPECT_EQ(refusal("miles,end,entry\n5,holding,-1\n"),
              "standard input:2: column entry: '-1' is negative; expected a number of 0 or more");
    EXPECT_EQ(run({"curve", "--csv", "-"}, "miles,end,entry\n0,came-back,0\n5,holding,\n").exitCode, 0);
}

TEST(BadTable, WithAWeightThatIsNone) {
    for (const char* const cell : {"0", "-1"})
        EXPECT_EQ(refusal("miles,end,weight\n5,holding,"s + cell + "\n"),
                  "standard input:2: column weight: '"s + cell +
                      "' is not above 0; expected a number above 0");
    EXPECT_EQ(refusal("miles,end,weight\n5,holding,\n"),
              "standard input:2: column weight: the cell is empty; expected a number above 0");
}

TEST(BadTable, WithBrokenQuotes) {
    EXPECT_EQ(refusal("miles,end\n5,\"holding\n"),
              "standard input:2: a quoted cell is never closed; expected a closing quotation mark");
    EXPECT_EQ(refusal("miles,end\n5,\"holding\"x\n"),
              "standard input:2: text follows a closing quotation mark; expected a "
              "comma or the end of the line");
    EXPECT_EQ(refusal("miles,end\n5,hold\"ing\n").find("standard input:2: a quotation mark stands inside"),
              0U);
}

TEST(BadTable, NamesTheLineOfTheFileAfterCellsOfSeveralLines) {
    EXPECT_EQ(refusal("miles,end,note\n5,holding,\"one\ntwo\nthree\"\n-1,holding,\n"),
              "standard input:5: column miles: '-1' is negative; expected a number of 0 or more");
}

TEST(BadTable, WithBytesThatAreNoText) {
    EXPECT_EQ(refusal("miles,end,note\n5,holding,caf\xE9\n"),
              "standard input:2: the line is not UTF-8; expected a table saved as UTF-8");
    EXPECT_EQ(refusal("miles,end,note\n5,holding,\"\xED\xA0\x80\"\n"),
              "standard input:2: the line is not UTF-8; expected a table saved as UTF-8");
    EXPECT_EQ(refusal("\xFF\xFEm\0i\0"s),
              "standard input:1: the text is UTF-16; expected a table saved as UTF-8");
    EXPECT_EQ(refusal("miles,end\n5,hold\0ing\n"s),
              "standard input:2: a NUL byte stands in a cell; expected text");
    EXPECT_EQ(refusal("miles,end\n5,\"hold\0ing\"\n"s),
              "standard input:2: a NUL byte stands in a cell; expected text");
    EXPECT_EQ(refusal("miles,end\r5,holding\r"),
              "standard input:1: a carriage return stands alone; expected lines ending "
              "in LF or CRLF");
}

TEST(BadTable, WithALineOfTenMegabytes) {
    const std::string line(std::size_t{10} << 20, '7');
    const std::string expected =
        "standard input:2: the line is longer than 1048576 bytes; expected one life a line";
    EXPECT_EQ(refusal("miles,end\n" + line + ",holding\n"), expected);
    EXPECT_EQ(refusal("miles,end\n\"" + line + "\",holding\n"), expected);
}

TEST(BadTable, ThatCannotBeRead) {
    const TemporaryFolder folder;
    const std::string path = folder.path().string();
    const Answer missing = run({"curve", "--csv", path + "/nothing.csv"});
    EXPECT_TRUE(isRefused(missing, 2)) << missing.err;
    EXPECT_NE(missing.err.find("nothing.csv: cannot be opened (No such file or directory)"),
              std::string::npos);
    const Answer directory = run({"curve", "--csv", path});
    EXPECT_TRUE(isRefused(directory, 2)) << directory.err;
    EXPECT_NE(directory.err.find("cannot be read (Is a directory)"), std::string::npos);
    if (geteuid() == 0)
        GTEST_SKIP() << "root may read everything";
    const std::string secret = folder.write("secret.csv", "miles,end\n5,holding\n");
    ASSERT_EQ(chmod(secret.c_str(), 0), 0);
    const Answer denied = run({"curve", "--csv", secret});
    EXPECT_TRUE(isRefused(denied, 2)) << denied.err;
    EXPECT_NE(denied.err.find("(Permission denied)"), std::string::npos);
}

TEST(BadTable, OfHistoriesThatRepeatsCannotTake) {
    EXPECT_EQ(
        refusal("miles,end\n5,holding\n", {"repeats"}),
        "standard input:1: column vehicle is missing; expected it in the header, which has 'miles', 'end'");
    EXPECT_EQ(refusal("miles,end,vehicle\n5,holding,\n", {"repeats"}),
              "standard input:2: column vehicle: the cell is empty; expected the name of the vehicle");
    EXPECT_EQ(refusal("miles,end,vehicle,weight\n5,holding,a,2\n", {"repeats"}),
              "standard input:2: column weight: is '2' but a history is one vehicle's; expected 1");
    EXPECT_EQ(refusal("miles,end,vehicle,until\n5,came-back,a,9\n", {"repeats"})
                  .find("standard input:2: column until: is '9' but a history"),
              0U);
}

TEST(BadTable, WithoutStrataThatWereAskedFor) {
    EXPECT_EQ(
        refusal("miles,end\n5,holding\n", {"compare", "--stratum"}),
        "standard input:1: column stratum is missing; expected it in the header, which has 'miles', 'end'");
}

TEST(BadOptions, AreRefusedInOneSentence) {
    const std::string table = "miles,end\n5,came-back\n9,holding\n";
    for (const std::vector<std::string>& options :
         std::vector<std::vector<std::string>>{{"curve", "--level", "1"},
                                               {"curve", "--level", "0"},
                                               {"curve", "--level", "x"},
                                               {"curve", "--level", "nan"},
                                               {"curve", "--limits", "wald"},
                                               {"curve", "--at", "5,,6"},
                                               {"curve", "--at", "-5"},
                                               {"curve", "--at", "inf"},
                                               {"curve", "--tau", "0"},
                                               {"curve", "--tau", "9.1"},
                                               {"curve", "--tau", "-1"},
                                               {"curve", "--given", "-1"},
                                               {"curve", "--given", "a"},
                                               {"curve", "--estimator", "km"},
                                               {"curve", "--unknown"},
                                               {"compare", "--rho", "high"},
                                               {"compare", "--horizon", "10"},
                                               {"ends", "--at", "x"},
                                               {"curve", "--at", "5", "--at", "6"},
                                               {"curve", "extra"},
                                               {"curve", "--format", "xml"}}) {
        std::vector<std::string> arguments = options;
        arguments.insert(arguments.end(), {"--csv", "-"});
        const Answer answer = run(arguments, table);
        EXPECT_TRUE(isRefused(answer, 2)) << options[1] << ": " << answer.exitCode << " " << answer.err;
    }
    EXPECT_TRUE(isRefused(run({}), 2));
    EXPECT_TRUE(isRefused(run({"curve"}), 2));
    EXPECT_TRUE(isRefused(run({"nonsense"}), 2));
}

TEST(BadOutput, IsAFailure) {
    const TemporaryFolder folder;
    const std::string csv = folder.write("lives.csv", "miles,end\n5,came-back\n");
    const std::string command = std::string(MILEHOLD_BINARY_DIR) + "/milehold-cli curve --csv " + csv +
                                " >/dev/full 2>" + (folder.path() / "err").string();
    const int status = std::system(command.c_str());
    EXPECT_EQ(WEXITSTATUS(status), 1);
}

} // namespace
} // namespace milehold::cli_tests
