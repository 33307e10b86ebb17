// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/contract/run_cli.h"

#include <gtest/gtest.h>

#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <sstream>
#include <sys/wait.h>
#include <unistd.h>

namespace milehold::cli_tests {

namespace {

std::string textOf(const std::filesystem::path& path) {
    std::ifstream file(path, std::ios::binary);
    std::ostringstream text;
    text << file.rdbuf();
    return text.str();
}

void replaceStream(int stream, const std::filesystem::path& path, const char* mode) {
    std::FILE* const file = std::fopen(path.c_str(), mode);
    if (file == nullptr || dup2(fileno(file), stream) < 0)
        _exit(126);
}

} // namespace

Answer run(const std::vector<std::string>& arguments, const std::string& input) {
    const TemporaryFolder folder;
    folder.write("in", input);
    folder.write("out", "");
    folder.write("err", "");
    std::string program = std::string(MILEHOLD_BINARY_DIR) + "/milehold-cli";
    std::vector<std::string> words = arguments;
    std::vector<char*> argv = {program.data()};
    for (std::string& word : words)
        argv.push_back(word.data());
    argv.push_back(nullptr);

    const pid_t child = fork();
    if (child == 0) {
        replaceStream(STDIN_FILENO, folder.path() / "in", "rb");
        replaceStream(STDOUT_FILENO, folder.path() / "out", "wb");
        replaceStream(STDERR_FILENO, folder.path() / "err", "wb");
        execv(program.c_str(), argv.data());
        _exit(127);
    }
    Answer answer;
    int status = 0;
    if (child > 0 && waitpid(child, &status, 0) == child && WIFEXITED(status))
        answer.exitCode = WEXITSTATUS(status);
    answer.out = textOf(folder.path() / "out");
    answer.err = textOf(folder.path() / "err");
    return answer;
}

nlohmann::json Answer::json() const {
    EXPECT_EQ(exitCode, 0) << err;
    auto value = nlohmann::json::parse(out, nullptr, false);
    EXPECT_FALSE(value.is_discarded()) << out.substr(0, 400);
    return value;
}

nlohmann::json answer(const std::string& table, std::vector<std::string> arguments) {
    arguments.insert(arguments.begin() + 1, {"--csv", "-", "--format", "json"});
    return run(arguments, table).json();
}

bool isRefused(const Answer& answer, int exitCode) {
    return answer.exitCode == exitCode && answer.out.empty() && answer.err.rfind("milehold-cli: ", 0) == 0 &&
           answer.err.find('\n') == answer.err.size() - 1;
}

TemporaryFolder::TemporaryFolder() {
    std::string name = (std::filesystem::temp_directory_path() / "milehold-cli-XXXXXX").string();
    if (mkdtemp(name.data()) == nullptr)
        std::abort();
    path_ = name;
}

TemporaryFolder::~TemporaryFolder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
}

std::string TemporaryFolder::write(const std::string& name, const std::string& text) const {
    std::ofstream(path_ / name, std::ios::binary) << text;
    return (path_ / name).string();
}

} // namespace milehold::cli_tests
