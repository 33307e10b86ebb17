// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <nlohmann/json.hpp>

#include <filesystem>
#include <string>
#include <vector>

namespace milehold::cli_tests {

/// What a run of the real milehold-cli gave.
struct Answer {
    int exitCode = -1;
    std::string out;
    std::string err;

    /// Standard output as JSON; a test failure and null when it is none, or when the run failed.
    nlohmann::json json() const;
};

/// Runs milehold-cli with these arguments and this text on its standard input.
Answer run(const std::vector<std::string>& arguments, const std::string& input = {});

/// The JSON of a command on a lives table that must succeed.
nlohmann::json answer(const std::string& table, std::vector<std::string> arguments);

/// True when a run was refused: nothing on standard output, one sentence of the program on standard error,
/// this code.
bool isRefused(const Answer& answer, int exitCode);

/// A folder of this test's own, removed at its end.
class TemporaryFolder {
public:
    TemporaryFolder();
    ~TemporaryFolder();
    TemporaryFolder(const TemporaryFolder&) = delete;
    TemporaryFolder& operator=(const TemporaryFolder&) = delete;

    std::filesystem::path path() const { return path_; }
    std::string write(const std::string& name, const std::string& text) const;

private:
    std::filesystem::path path_;
};

} // namespace milehold::cli_tests
