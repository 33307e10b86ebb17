// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <map>
#include <regex>
#include <set>
#include <sstream>
#include <string>
#include <vector>

namespace {

namespace fs = std::filesystem;

struct Source {
    std::string path; // from the root, with /
    std::vector<std::string> lines;
};

bool isSource(const fs::path& path) {
    return path.extension() == ".cpp" || path.extension() == ".h";
}

/// Every source of ours below these folders, without comments' text being taken out: see codeOf().
const std::vector<Source>& sources() {
    static const std::vector<Source> all = [] {
        std::vector<Source> found;
        const fs::path root(MILEHOLD_SOURCE_DIR);
        for (const char* folder : {"core", "storage", "ui", "app", "sample-shop", "tests"}) {
            if (!fs::exists(root / folder))
                continue;
            for (const auto& entry : fs::recursive_directory_iterator(root / folder)) {
                if (!entry.is_regular_file() || !isSource(entry.path()))
                    continue;
                Source source;
                source.path = fs::relative(entry.path(), root).generic_string();
                std::ifstream file(entry.path());
                for (std::string line; std::getline(file, line);)
                    source.lines.push_back(line);
                found.push_back(std::move(source));
            }
        }
        std::sort(found.begin(), found.end(), [](const auto& a, const auto& b) { return a.path < b.path; });
        return found;
    }();
    return all;
}

/// A line without its `//` comment; good enough, since no string of ours holds two slashes but addresses.
std::string codeOf(const std::string& line) {
    for (std::size_t at = line.find("//"); at != std::string::npos; at = line.find("//", at + 2)) {
        if (at == 0 || line[at - 1] != ':')
            return line.substr(0, at);
    }
    return line;
}

std::string folderOf(const std::string& path) {
    return path.substr(0, path.find('/'));
}

bool startsWith(const std::string& text, const std::string& start) {
    return text.rfind(start, 0) == 0;
}

/// Reports every line of code that matches, in files for which `here` is true.
template <class Where> void forbid(const std::string& pattern, const Where& here, const std::string& why) {
    const std::regex expression(pattern);
    for (const Source& source : sources()) {
        if (!here(source.path) || source.path == "tests/rules/source_rules_test.cpp")
            continue;
        for (std::size_t i = 0; i < source.lines.size(); ++i) {
            if (std::regex_search(codeOf(source.lines[i]), expression)) {
                ADD_FAILURE() << source.path << ":" << i + 1 << ": " << why << "\n  " << source.lines[i];
            }
        }
    }
}

bool everywhere(const std::string&) {
    return true;
}

} // namespace

TEST(SourceRules, SeeTheWholeTree) {
    std::map<std::string, int> count;
    for (const Source& source : sources())
        ++count[folderOf(source.path)];
    EXPECT_GT(count["core"], 10);
    EXPECT_GT(count["ui"], 40);
    EXPECT_GT(count["tests"], 10);
    EXPECT_EQ(codeOf("int a; // QVERIFY"), "int a; ");
    EXPECT_EQ(codeOf("\"https://example.org\" x"), "\"https://example.org\" x");
}

// Floors: core <- storage, core <- ui, all <- app; sample-shop writes a shop. Nothing looks up or sideways.
TEST(SourceRules, IncludesOnlyLookDown) {
    const std::map<std::string, std::set<std::string>> may = {
        {"core", {"core"}},
        {"storage", {"storage", "core"}},
        {"ui", {"ui", "core"}},
        {"sample-shop", {"sample-shop", "core", "storage"}},
        {"app", {"app", "core", "storage", "ui", "sample-shop"}},
    };
    const std::regex include("^\\s*#\\s*include\\s*[\"<]([a-z-]+)/");
    int seen = 0;
    for (const Source& source : sources()) {
        const auto rule = may.find(folderOf(source.path));
        if (rule == may.end())
            continue;
        for (const std::string& line : source.lines) {
            std::smatch match;
            if (!std::regex_search(line, match, include))
                continue;
            const std::string to = match[1];
            if (!may.contains(to) && to != "tests")
                continue;
            ++seen;
            EXPECT_TRUE(rule->second.contains(to)) << source.path << " includes " << line;
        }
    }
    EXPECT_GT(seen, 100);
}

TEST(SourceRules, CoreKnowsNoQtNoFilesAndNoClock) {
    const auto core = [](const std::string& path) { return startsWith(path, "core/"); };
    forbid("#\\s*include\\s*<Q", core, "core has no Qt");
    forbid("#\\s*include\\s*<(fstream|filesystem|iostream|thread|mutex)>", core,
           "core has no input, output or threads");
    forbid("\\b(fopen|printf|fprintf|puts)\\(", core, "core has no input and no output");
    forbid("(system_clock|steady_clock)::now|\\btime\\(nullptr\\)", core,
           "core has no clock: today is a parameter");
}

TEST(SourceRules, OnlyStorageSpeaksToDatabases) {
    const auto outside = [](const std::string& path) {
        return !startsWith(path, "storage/") && !startsWith(path, "tests/");
    };
    forbid("\\b(QSqlQuery|QSqlDatabase|QSqlTableModel|QSqlQueryModel|sqlite3_\\w+|PQ\\w+)\\b", outside,
           "one connection on one thread, inside storage");
    forbid("\\b(QSqlTableModel|QSqlQueryModel|QSqlRelationalTableModel)\\b", everywhere,
           "models of Qt Sql write and read behind our back");
}

TEST(SourceRules, DatabaseTextStaysOutOfLogsAndKeysComeFromUs) {
    const auto own = [](const std::string& path) { return !startsWith(path, "tests/"); };
    forbid("\\blastInsertId\\b", own, "wrong once a trigger inserts; keys are made by the program");
    // One file turns it into the name of the broken rule, one into words of ours; both drop the rest.
    const auto others = [&own](const std::string& path) {
        return own(path) && path != "storage/database/sql_error.cpp" &&
               path != "storage/server/postgresql_connection.cpp";
    };
    forbid("\\bdatabaseText\\s*\\(", others, "it can hold customer data");
    forbid("QSqlDatabase::transaction|\\.transaction\\(\\)", own,
           "a deferred BEGIN fails at the first write: BEGIN IMMEDIATE");
}

TEST(SourceRules, NothingButTheEngineTouchesTheDatabaseFile) {
    // Qt's own file classes open what they look at, and closing it drops the locks of this very process.
    forbid(
        "\\b(QFileDialog|QFileIconProvider|QFileSystemModel)\\b",
        [](const std::string& path) {
            return path != "app/desktop/file_dialogs.cpp" && !startsWith(path, "tests/");
        },
        "files are asked for through app/desktop/file_dialogs.h alone");
    forbid("\\bQMimeDatabase\\b", everywhere, "it opens the files that it looks at");
    forbid(
        "\\b(QFile|QFileInfo|std::[io]?fstream)\\b.*(\\bdatabase\\(\\)|shop\\.db)",
        [](const std::string& path) { return !startsWith(path, "tests/"); },
        "the open database is the engine's alone");
}

TEST(SourceRules, NoAnswerOfTheDatabaseIsDropped) {
    const auto own = [](const std::string& path) { return !startsWith(path, "tests/"); };
    forbid("^\\s*[\\w.>-]*(query|_query)(\\.|->)(exec|prepare)\\s*\\(", own,
           "an exec or a prepare that nobody looks at");
    forbid("\\b(setQuery|setTable|exec)\\s*\\([^;]*\\.arg\\(", own, "SQL is never put together from values");
}

TEST(SourceRules, ChecksInTestsCanFail) {
    const auto tests = [](const std::string& path) { return startsWith(path, "tests/"); };
    forbid("\\b(QVERIFY2?|QCOMPARE|QTRY_VERIFY|QTRY_COMPARE|QFAIL)\\b", tests,
           "inside GoogleTest these pass silently when they are false");
    forbid("\\bDISABLED_", tests, "a disabled test is deleted or put right the same day");
    forbid("EXPECT_TRUE\\(true\\)|SUCCEED\\(\\)", tests, "a test that cannot fail");
}

TEST(SourceRules, TheLookComesFromOneStyle) {
    const auto own = [](const std::string& path) { return !startsWith(path, "tests/"); };
    forbid("\\bsetStyleSheet\\b", everywhere,
           "style sheets: a control that one touches must be drawn wholly anew");
    forbid(
        "qcustomplot\\.h", [](const std::string& path) { return path != "ui/charts/curve_lines.cpp"; },
        "it costs seconds wherever it is read: one file");
    // Colours live in the theme; a room that names one would not follow light and dark.
    forbid(
        "QColor\\(\\s*\"#|\"#[0-9A-Fa-f]{6}\"",
        [](const std::string& path) { return startsWith(path, "ui/") && !startsWith(path, "ui/theme/"); },
        "colours come from the tokens");
    forbid("\\bSIGNAL\\(|\\bSLOT\\(", own, "typed connects only");
    forbid("processEvents", own, "no nested event loops");
}

TEST(SourceRules, EveryIconThatIsAskedForExists) {
    const std::regex ask("\\b(?:icon|paintIcon)\\([^;]*?(?:QStringLiteral\\()?\"([a-z-]+)\"");
    int seen = 0;
    for (const Source& source : sources()) {
        if (!startsWith(source.path, "ui/") && !startsWith(source.path, "app/"))
            continue;
        for (const std::string& line : source.lines) {
            const std::string code = codeOf(line);
            for (std::sregex_iterator it(code.begin(), code.end(), ask), end; it != end; ++it) {
                ++seen;
                const fs::path file =
                    fs::path(MILEHOLD_SOURCE_DIR) / "resources/icons" / ((*it)[1].str() + ".svg");
                EXPECT_TRUE(fs::exists(file)) << source.path << " asks for " << (*it)[1];
            }
        }
    }
    EXPECT_GT(seen, 5);
}

TEST(SourceRules, LinesEndWhereTheFormatEndsThem) {
    constexpr std::size_t kColumns = 110; // as .clang-format has it; a letter of several bytes counts once
    for (const Source& source : sources()) {
        for (std::size_t i = 0; i < source.lines.size(); ++i) {
            const std::string& line = source.lines[i];
            const auto letters = std::count_if(line.begin(), line.end(),
                                               [](unsigned char byte) { return (byte & 0xC0) != 0x80; });
            EXPECT_LE(static_cast<std::size_t>(letters), kColumns)
                << source.path << ":" << i + 1 << ": run clang-format on it";
        }
    }
}

TEST(SourceRules, EverySourceSaysItsLicence) {
    for (const Source& source : sources()) {
        if (source.lines.empty())
            continue; // a library's placeholder
        EXPECT_EQ(source.lines.front(), "// SPDX-License-Identifier: GPL-3.0-or-later") << source.path;
    }
    for (const auto& entry : fs::directory_iterator(fs::path(MILEHOLD_SOURCE_DIR) / "resources/icons")) {
        if (entry.path().extension() != ".svg")
            continue;
        std::ifstream file(entry.path());
        std::stringstream text;
        text << file.rdbuf();
        EXPECT_NE(text.str().find("SPDX-License-Identifier: GPL-3.0-or-later"), std::string::npos)
            << entry.path();
        EXPECT_NE(text.str().find("currentColor"), std::string::npos)
            << entry.path() << " keeps a colour of its own";
    }
}

// A shop has the same schema on both engines: a step that one of them lacks would let it fall behind.
TEST(SourceRules, EveryMigrationExistsForBothEngines) {
    const auto names = [](const char* engine) {
        std::set<std::string> found;
        const fs::path folder = fs::path(MILEHOLD_SOURCE_DIR) / "resources/migrations" / engine;
        for (const auto& entry : fs::directory_iterator(folder))
            if (entry.path().extension() == ".sql")
                found.insert(entry.path().filename().string());
        return found;
    };
    EXPECT_GE(names("sqlite").size(), 1U);
    EXPECT_EQ(names("sqlite"), names("postgresql"));
}

TEST(SourceRules, EveryFolderOfSourcesSaysWhatIsInIt) {
    std::set<fs::path> folders;
    for (const Source& source : sources())
        folders.insert((fs::path(MILEHOLD_SOURCE_DIR) / source.path).parent_path());
    EXPECT_GT(folders.size(), 40U);
    for (const fs::path& folder : folders)
        EXPECT_TRUE(fs::exists(folder / "README.md")) << folder << " wants a README.md of a few lines";
}
