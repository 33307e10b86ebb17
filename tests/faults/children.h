// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <chrono>
#include <string>
#include <sys/types.h>
#include <vector>

namespace milehold::test {

/// How often a test repeats itself: so often on each commit, or as often as the environment says for a long
/// night.
int timesFrom(const char* variable, int quick);

/// Starts this very program with these arguments as another process; its standard output can be read.
struct Child {
    pid_t pid = -1;
    int output = -1;
};
Child startChild(const std::vector<std::string>& arguments);
/// Waits for the first word of the child, lets it go on for so long, kills it, and returns all that it said.
std::string killAfter(const Child& child, std::chrono::microseconds later);
/// Waits until the child ends by itself; its exit code, or 128 and the number of the signal that ended it.
int waitFor(const Child& child);

/// What fillDisk() ends with where this system lets nobody mount a disk of its own.
inline constexpr int kMayNotMount = 77;

/// What the children do; see main.cpp.
int backUpUntilKilled(const char* folder);
int migrateSlowly(const char* folder);
int openUntilKilled(const char* folder);
int saveBesideOthers(const char* folder, int jobs);
int attachOnce(const char* folder, const char* file);
int fillDisk(const char* folder, const char* place);

} // namespace milehold::test
