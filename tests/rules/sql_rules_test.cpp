// SPDX-License-Identifier: GPL-3.0-or-later
// Values are bound, never pasted into a statement: reads every `+` that stands beside SQL in storage/. What
// may stand there is a literal, a constant (kName), sqlName(...) or sqlNumber(...) of
// storage/database/sql_name.h, and a piece whose name ends in Sql; and a piece whose name ends in Sql is
// filled with nothing else.
#include <gtest/gtest.h>

#include <algorithm>
#include <cctype>
#include <filesystem>
#include <fstream>
#include <regex>
#include <sstream>
#include <string>
#include <vector>

namespace {

namespace fs = std::filesystem;

struct Token {
    enum Kind { Literal, Name, Sign, Group } kind = Sign;
    std::string text;          // a literal's characters, a path like `one.name`, a sign, an opening bracket
    std::vector<Token> inside; // of a group
    int line = 0;
};

bool isNameLetter(char c) {
    return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '_';
}

/// Reads C++ as far as this rule needs it: literals, paths of names, signs, and what stands in brackets.
class Reader {
public:
    explicit Reader(const std::string& code) : code_(code) {}
    std::vector<Token> read(char closing = '\0') {
        std::vector<Token> tokens;
        while (at_ < code_.size()) {
            const char c = code_[at_];
            if (c == '\n') {
                ++line_;
                ++at_;
                // A line for the preprocessor is no code of a statement.
                const auto first = code_.find_first_not_of(" \t", at_);
                if (first != std::string::npos && code_[first] == '#')
                    at_ = std::min(code_.find('\n', at_), code_.size());
            } else if (std::isspace(static_cast<unsigned char>(c)) != 0) {
                ++at_;
            } else if (code_.compare(at_, 2, "//") == 0) {
                at_ = std::min(code_.find('\n', at_), code_.size());
            } else if (c == '"' || c == '\'') {
                tokens.push_back(literal(c));
            } else if (isNameLetter(c)) {
                tokens.push_back(name());
            } else if (c == '(' || c == '[' || c == '{') {
                Token group{Token::Group, std::string(1, c), {}, line_};
                ++at_;
                group.inside = read(c == '(' ? ')' : c == '[' ? ']' : '}');
                tokens.push_back(std::move(group));
            } else if (c == closing) {
                ++at_;
                return tokens;
            } else {
                tokens.push_back(sign());
            }
        }
        return tokens;
    }

private:
    Token literal(char quote) {
        Token token{Token::Literal, "", {}, line_};
        for (++at_; at_ < code_.size() && code_[at_] != quote; ++at_) {
            if (code_[at_] == '\\')
                ++at_;
            token.text += code_[at_];
        }
        ++at_;
        return token;
    }
    Token name() {
        Token token{Token::Name, "", {}, line_};
        while (at_ < code_.size()) {
            if (isNameLetter(code_[at_]))
                token.text += code_[at_++];
            else if (code_[at_] == '\'' && std::isdigit(static_cast<unsigned char>(token.text[0])) != 0)
                ++at_; // of a long number
            else if (code_[at_] == '.' || code_.compare(at_, 2, "::") == 0 ||
                     code_.compare(at_, 2, "->") == 0) {
                token.text += '.';
                at_ += code_[at_] == '.' ? 1 : 2;
            } else
                break;
        }
        return token;
    }
    Token sign() {
        for (const char* longer : {"+=", "++", "==", "<=", ">=", "!=", "&&", "||", "<<", "->", "::"})
            if (code_.compare(at_, 2, longer) == 0) {
                at_ += 2;
                return {Token::Sign, longer, {}, line_};
            }
        return {Token::Sign, std::string(1, code_[at_++]), {}, line_};
    }

    const std::string& code_;
    std::size_t at_ = 0;
    int line_ = 1;
};

bool isSql(const Token& token) {
    static const std::regex begins(
        "^\\s*(SELECT|INSERT INTO|UPDATE|DELETE FROM|CREATE|DROP|ALTER|PRAGMA|VACUUM|"
        "CLUSTER|ATTACH|REINDEX|NOTIFY|LISTEN|SET|GRANT|REVOKE|COPY|LOCK|TRUNCATE)\\b");
    static const std::regex holds(
        "(^|[ (])(FROM|WHERE|AND|OR|VALUES|ORDER BY|LIMIT|JOIN|HAVING|GROUP BY)( |$)");
    return token.kind == Token::Literal &&
           (std::regex_search(token.text, begins) || std::regex_search(token.text, holds));
}

std::string lastName(const std::string& path) {
    const auto dot = path.find_last_of('.');
    return dot == std::string::npos ? path : path.substr(dot + 1);
}

bool isPiece(const std::string& path) {
    const std::string name = lastName(path);
    return name == "sql" || name.ends_with("Sql");
}

bool isAllowedName(const std::string& path) {
    const std::string name = lastName(path);
    return isPiece(path) || name == "sqlName" || name == "sqlNumber" ||
           (name.size() > 1 && name[0] == 'k' && std::isupper(static_cast<unsigned char>(name[1])) != 0);
}

bool isBreak(const Token& token) {
    if (token.kind == Token::Name)
        return token.text == "return" || token.text == "const" || token.text == "auto";
    if (token.kind == Token::Group)
        return token.text == "{";
    if (token.kind != Token::Sign)
        return false;
    static const std::string kBreaks = ",;?:=!<>&|";
    return kBreaks.find(token.text[0]) != std::string::npos || token.text == "+=";
}

using Tokens = std::vector<Token>;

std::vector<Tokens> parts(const Tokens& tokens, bool (*isBetween)(const Token&)) {
    std::vector<Tokens> all(1);
    for (const auto& token : tokens) {
        if (isBetween(token))
            all.emplace_back();
        else
            all.back().push_back(token);
    }
    return all;
}

bool isPlus(const Token& token) {
    return token.kind == Token::Sign && token.text == "+";
}

bool isAllowed(const Tokens& operand);

/// What stands in brackets: each way of a choice, and each part of a sum.
bool isAllowedInside(const Tokens& inside) {
    Tokens rest = inside;
    const auto question = std::find_if(rest.begin(), rest.end(), [](const Token& token) {
        return token.kind == Token::Sign && token.text == "?";
    });
    if (question != rest.end())
        rest.erase(rest.begin(), question + 1); // the condition is no text
    for (const auto& chain : parts(rest, isBreak))
        for (const auto& operand : parts(chain, isPlus))
            if (!isAllowed(operand))
                return false;
    return true;
}

bool isAllowed(const Tokens& operand) {
    if (operand.empty())
        return true;
    const bool allLiterals = std::all_of(operand.begin(), operand.end(),
                                         [](const Token& token) { return token.kind == Token::Literal; });
    if (allLiterals)
        return true;
    if (operand.size() == 1 && operand[0].kind == Token::Group)
        return isAllowedInside(operand[0].inside);
    if (operand[0].kind != Token::Name)
        return false;
    // std::string(x), std::string_view(x): the same as x. QStringLiteral("...") likewise.
    if (operand.size() == 2 && operand[1].kind == Token::Group &&
        (lastName(operand[0].text) == "string" || lastName(operand[0].text) == "string_view" ||
         operand[0].text == "QStringLiteral" || operand[0].text == "QLatin1String"))
        return isAllowedInside(operand[1].inside);
    return isAllowedName(operand[0].text);
}

struct Finding {
    int line;
    std::string what;
};

void look(const Tokens& tokens, std::vector<Finding>& found) {
    for (const auto& token : tokens)
        if (token.kind == Token::Group)
            look(token.inside, found);
    Tokens chain;
    bool fillsAPiece = false;
    const auto finish = [&] {
        const auto operands = parts(chain, isPlus);
        const bool hasSql = std::any_of(chain.begin(), chain.end(), isSql);
        if (fillsAPiece || (hasSql && operands.size() > 1))
            for (const auto& operand : operands)
                if (!isAllowed(operand))
                    found.push_back({operand[0].line, operand[0].text});
        chain.clear();
    };
    for (const auto& token : tokens) {
        if (!isBreak(token)) {
            chain.push_back(token);
            continue;
        }
        // `piece += ...`, `piece = ...`; a choice goes on filling it.
        const bool fills = token.text == "+=" && !chain.empty() && isPiece(chain.back().text);
        const bool goesOn = fillsAPiece && token.kind == Token::Sign && token.text == ":";
        if (fillsAPiece && token.kind == Token::Sign && token.text == "?")
            chain.clear(); // the condition
        finish();
        fillsAPiece = fills || goesOn || (fillsAPiece && token.kind == Token::Sign && token.text == "?");
    }
    finish();
}

std::vector<Finding> gluedIn(const std::string& code) {
    std::vector<Finding> found;
    look(Reader(code).read(), found);
    return found;
}

} // namespace

TEST(SqlRules, TheRuleSeesWhatIsPastedAndLetsNamesThrough) {
    for (const char* pasted : {
             R"x(f("SELECT a FROM b WHERE c = '" + name + "'");)x",
             R"x(return "DELETE FROM " + table.name;)x",
             R"x(auto s = std::string("UPDATE t SET a = ") + std::to_string(value) + " WHERE id = 1";)x",
             R"x(sql += " AND a = '" + text + "'";)x",
             R"x(whereSql += text;)x",
             R"x(s = x ? "SELECT a FROM " + table : "";)x",
             R"x(run("PRAGMA user_version = " + std::string(text));)x",
             R"x(q("SELECT 1 FROM t WHERE " + (isOdd ? "a" : typed) + " = 1");)x",
             "f(prefix +\n  \"SELECT a \"\n  \"FROM b\");",
         })
        EXPECT_EQ(gluedIn(pasted).size(), 1U) << pasted;
    for (const char* fine : {
             R"x(f("SELECT a " "FROM b");)x",
             R"x(return "DELETE FROM " + sqlName(table.name) + " WHERE id = :id";)x",
             R"x(f(std::string(kColumns) + "WHERE row_id = :row", "read " + what);)x",
             R"x(sql += " AND " + std::string(columnSql) + " = :only";)x",
             R"x(n += 1; g("a" + b);)x",
             R"x(q("SELECT 1 FROM t WHERE " + (one.parent == "log" ? "seq" : "id") + " = 1");)x",
             R"x(f("SELECT (SELECT count(*) FROM a) + (SELECT count(*) FROM b)");)x",
             R"x(log("the server refused and " + what);)x",
         })
        EXPECT_TRUE(gluedIn(fine).empty()) << fine;
}

TEST(SqlRules, StatementsAreNotGluedFromValues) {
    const fs::path root = fs::path(MILEHOLD_SOURCE_DIR) / "storage";
    int files = 0;
    for (const auto& entry : fs::recursive_directory_iterator(root)) {
        if (entry.path().extension() != ".cpp" && entry.path().extension() != ".h")
            continue;
        std::ifstream in(entry.path());
        std::stringstream text;
        text << in.rdbuf();
        ++files;
        const std::string name = fs::relative(entry.path(), root.parent_path()).string();
        // A place for a value in a text that is filled in.
        static const std::regex kFilledIn("\"(SELECT|INSERT|UPDATE|DELETE)\\b[^\"]*%[1-9]");
        EXPECT_FALSE(std::regex_search(text.str(), kFilledIn)) << name << ": values are bound, never pasted";
        for (const auto& found : gluedIn(text.str()))
            ADD_FAILURE() << name << ":" << found.line << ": `" << found.what
                          << "` is pasted into SQL: bind it, or see storage/database/sql_name.h";
    }
    EXPECT_GT(files, 100);
}
