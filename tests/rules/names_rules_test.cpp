// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <map>
#include <regex>
#include <sstream>
#include <string>
#include <vector>

namespace {

namespace fs = std::filesystem;

std::string textOf(const fs::path& path) {
    std::ifstream file(path);
    std::stringstream text;
    text << file.rdbuf();
    return text.str();
}

std::vector<fs::path> sourcesBelow(const std::vector<std::string>& folders) {
    std::vector<fs::path> found;
    for (const std::string& folder : folders) {
        for (const auto& entry : fs::recursive_directory_iterator(fs::path(MILEHOLD_SOURCE_DIR) / folder)) {
            const fs::path extension = entry.path().extension();
            if (extension == ".cpp" || extension == ".h")
                found.push_back(entry.path());
        }
    }
    return found;
}

/// Classes that this file defines outside of an unnamed namespace, at the left margin: what the linker
/// shares.
std::vector<std::string> sharedClasses(const std::string& text) {
    static const std::regex definition("^(?:template <[^>]*> )?(?:class|struct)(?: \\[\\[\\w+\\]\\])? "
                                       "(\\w+)(?: final)?(?: :[^;]*)?(?: \\{.*|)$");
    std::vector<std::string> names;
    std::istringstream lines(text);
    bool hidden = false;
    std::string space;
    static const std::regex opening("^namespace ([\\w:]+) \\{$");
    for (std::string line; std::getline(lines, line);) {
        if (line == "namespace {")
            hidden = true;
        else if (line == "} // namespace")
            hidden = false;
        std::smatch match;
        if (std::regex_match(line, match, opening))
            space = match[1].str() + "::";
        if (!hidden && std::regex_match(line, match, definition))
            names.push_back(space + match[1].str());
    }
    return names;
}

} // namespace

TEST(NamesRules, SeeTheClassesThatALinkerWouldMix) {
    EXPECT_EQ(sharedClasses("namespace a {\nclass One : public Base {\n};\nstruct Two {\n};\n}"),
              (std::vector<std::string>{"a::One", "a::Two"}));
    EXPECT_EQ(sharedClasses("namespace {\nclass One {\n};\n} // namespace\nclass Later;\n"),
              std::vector<std::string>{});
}

// Two classes of one name in one namespace become one when linked, without a word, and the window crashes.
TEST(NamesRules, NoFloorDefinesAClassOfOneNameTwice) {
    for (const char* floor : {"core", "storage", "ui", "app"}) {
        std::map<std::string, std::vector<std::string>> places;
        for (const fs::path& path : sourcesBelow({floor})) {
            for (const std::string& name : sharedClasses(textOf(path)))
                places[name].push_back(path.filename().string());
        }
        EXPECT_GT(places.size(), 10u) << floor;
        for (const auto& [name, files] : places) {
            std::string where;
            for (const std::string& file : files)
                where += " " + file;
            EXPECT_EQ(files.size(), 1u) << name << " is defined in" << where
                                        << ": put what is a file's own into an unnamed namespace";
        }
    }
}

TEST(NamesRules, EveryTextWithANumberHasItsPlural) {
    const std::string plurals =
        textOf(fs::path(MILEHOLD_SOURCE_DIR) / "resources/translations/milehold_en.ts");
    EXPECT_NE(plurals.find("<numerusform>"), std::string::npos);
    EXPECT_EQ(plurals.find("unfinished"), std::string::npos);
    EXPECT_EQ(plurals.find("<numerusform></numerusform>"), std::string::npos);
    const std::regex counted("\"([^\"\\n]*%n[^\"\\n]*)\"");
    int seen = 0;
    for (const fs::path& path : sourcesBelow({"ui", "app"})) {
        const std::string text = textOf(path);
        for (std::sregex_iterator it(text.begin(), text.end(), counted), end; it != end; ++it) {
            ++seen;
            EXPECT_NE(plurals.find("<source>" + (*it)[1].str() + "</source>"), std::string::npos)
                << path.filename() << ": \"" << (*it)[1]
                << "\" is missing from milehold_en.ts (see its README)";
        }
    }
    EXPECT_GT(seen, 2);
}
