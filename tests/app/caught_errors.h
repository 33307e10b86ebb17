// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <fcntl.h>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <unistd.h>
#include <utility>

namespace milehold::test {

/// Everything that is written to standard error while it lives goes to a file instead.
class CaughtErrors {
public:
    explicit CaughtErrors(std::filesystem::path file)
        : file_(std::move(file)), before_(::dup(STDERR_FILENO)) {
        const int to = ::open(file_.c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0600);
        ::dup2(to, STDERR_FILENO);
        ::close(to);
    }
    ~CaughtErrors() {
        ::dup2(before_, STDERR_FILENO); // also where a test left early
        ::close(before_);
    }
    CaughtErrors(const CaughtErrors&) = delete;
    CaughtErrors& operator=(const CaughtErrors&) = delete;

    /// Ends the catching, and gives what was caught.
    std::string end() {
        ::dup2(before_, STDERR_FILENO);
        std::ifstream in(file_, std::ios::binary);
        std::stringstream text;
        text << in.rdbuf();
        return text.str();
    }

private:
    std::filesystem::path file_;
    int before_;
};

} // namespace milehold::test
