// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/faults/children.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cstdlib>
#include <signal.h>
#include <sys/wait.h>
#include <thread>
#include <unistd.h>

namespace milehold::test {

int timesFrom(const char* variable, int quick) {
    const char* const wanted = std::getenv(variable);
    return wanted == nullptr ? quick : std::max(1, std::atoi(wanted));
}

Child startChild(const std::vector<std::string>& arguments) {
    int ends[2] = {-1, -1};
    EXPECT_EQ(::pipe(ends), 0);
    std::vector<char*> list;
    std::string program = "milehold_fault_tests";
    list.push_back(program.data());
    std::vector<std::string> kept = arguments;
    for (auto& argument : kept)
        list.push_back(argument.data());
    list.push_back(nullptr);
    const pid_t pid = ::fork();
    if (pid == 0) {
        ::dup2(ends[1], STDOUT_FILENO);
        ::close(ends[0]);
        ::close(ends[1]);
        ::execv("/proc/self/exe", list.data());
        ::_exit(9);
    }
    ::close(ends[1]);
    return {pid, ends[0]};
}

std::string killAfter(const Child& child, std::chrono::microseconds later) {
    std::string said(4096, '\0');
    const auto first = ::read(child.output, said.data(), said.size());
    said.resize(static_cast<std::size_t>(std::max<ssize_t>(first, 0)));
    std::this_thread::sleep_for(later);
    ::kill(child.pid, SIGKILL);
    char block[4096];
    for (ssize_t got = 0; (got = ::read(child.output, block, sizeof block)) > 0;)
        said.append(block, static_cast<std::size_t>(got));
    ::close(child.output);
    int status = 0;
    ::waitpid(child.pid, &status, 0);
    EXPECT_TRUE(WIFSIGNALED(status)) << "the child ended by itself with " << WEXITSTATUS(status);
    return said;
}

int waitFor(const Child& child) {
    char block[4096];
    while (::read(child.output, block, sizeof block) > 0) {
    }
    ::close(child.output);
    int status = 0;
    ::waitpid(child.pid, &status, 0);
    return WIFSIGNALED(status) ? 128 + WTERMSIG(status) : WEXITSTATUS(status);
}

} // namespace milehold::test
