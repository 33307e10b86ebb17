// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/life_record.h"

#include <filesystem>
#include <span>
#include <string>
#include <vector>

namespace milehold::benchmark {

/// Milliseconds of processor time used so far: RUSAGE_SELF, or RUSAGE_CHILDREN that have ended.
double processorMs(int who);
double median(std::vector<double> values);

/// Reads the rows that lives are derived from through Qt Sql alone, forward-only, every value of every row,
/// in the order in which they lie: median milliseconds by the processor's clock.
double readThroughQtMs(const std::filesystem::path& file, int rounds);

/// Writes the lives as a bare table (path, technician, metres, end) with its covering indices into a file of
/// its own.
void layOutFloor(std::span<const core::LifeRecord> lives);
/// SQLite's own shell counting by path, metres and end in that file, where `where` holds (empty: everywhere):
/// median milliseconds by the processor's clock, its start included.
double groupByMs(const std::string& where, int rounds);

} // namespace milehold::benchmark
