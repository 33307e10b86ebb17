// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/cli/session.h"

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <unistd.h>
#include <vector>

namespace milehold::cli {

/// What a call of the command line gave.
struct Answer {
    int code = 0;
    std::string out, err;
    /// The answer as JSON; the parser takes neither NaN nor infinity.
    nlohmann::json json() const { return nlohmann::json::parse(out); }
};

/// Runs `milehold-cli` with these words.
inline Answer askWith(const std::vector<std::string>& words) {
    std::vector<const char*> arguments = {"milehold-cli"};
    for (const std::string& word : words)
        arguments.push_back(word.c_str());
    std::ostringstream out, err;
    Answer answer;
    answer.code = run(static_cast<int>(arguments.size()), arguments.data(), out, err);
    answer.out = out.str();
    answer.err = err.str();
    return answer;
}

/// Runs `milehold-cli COMMAND --csv TABLE --format json ...` on a table of its own.
inline Answer ask(const std::string& table, std::vector<std::string> words) {
    const std::filesystem::path file =
        std::filesystem::temp_directory_path() / ("milehold-cli-test-" + std::to_string(::getpid()) + ".csv");
    std::ofstream(file, std::ios::binary) << table;
    std::vector<std::string> all = {words.front(), "--csv", file.string(), "--format", "json"};
    all.insert(all.end(), words.begin() + 1, words.end());
    const Answer answer = askWith(all);
    std::filesystem::remove(file);
    return answer;
}

/// Expects a refusal: the code, a sentence that holds `words`, nothing on standard output.
inline void expectRefused(const Answer& answer, int code, const std::string& words) {
    EXPECT_EQ(answer.code, code) << answer.err;
    EXPECT_EQ(answer.out, "");
    EXPECT_EQ(answer.err.rfind("milehold-cli: ", 0), 0U) << answer.err;
    EXPECT_NE(answer.err.find(words), std::string::npos) << answer.err;
}

} // namespace milehold::cli
