// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/job.h"
#include "core/shop/vehicle.h"
#include "storage/shop.h"

#include <cstdint>
#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <vector>

namespace milehold::test {

/// What the jobs of a fault test are made from.
struct Bench {
    core::VehicleId vehicle;
    core::RepairPathId path;
    core::PartNumberId part;
    core::StaffId technician;
};

/// A new shop with one vehicle and what a job needs, closed again.
Bench makeBenchShop(const std::filesystem::path& folder);
/// The same, read from a shop that makeBenchShop() has made.
Bench benchOf(storage::Shop& shop);

/// A finished job with two work lines, two parts and a trouble code, told apart by `mark`.
core::Job benchJob(const Bench& bench, std::int64_t mark);

/// How many rows a benchJob() is in each table; everything a half-saved job would get wrong.
inline constexpr std::int64_t kLinesAJob = 2;
inline constexpr std::int64_t kPartsAJob = 2;
inline constexpr std::int64_t kCodesAJob = 1;
inline constexpr std::int64_t kReadingsAJob = 2;

/// Opens the shop and saves jobs and drafts until it is killed; each job's number goes to standard output
/// once its save has returned. The body of a child process.
int saveUntilKilled(const char* folder);

/// Opens the shop, which has one delivered job, and logs answers of calls about it until it is killed, each
/// with what was typed kept before; the key of each answer goes to standard output once its save has
/// returned. The body of a child process.
int answerUntilKilled(const char* folder);
/// What answerUntilKilled() writes as the note of its answer number `mark` in one run.
std::string answerNote(std::int64_t mark);

/// Whether the shop reads as many jobs.
bool hasJobs(storage::Shop& shop, std::size_t count);

/// Saves jobs until the disk holds no more, and how many were acknowledged. A save writes as many pages as
/// its random ids touch, so a refused one may be followed by one that still fits: full means that twenty in a
/// row were refused. Nothing: a refusal was not called a disk problem, or the shop's jobs were not those
/// acknowledged, or no end came.
std::optional<std::size_t> saveUntilRefused(storage::Shop& shop, const Bench& bench);

/// What a closed shop's tables hold, every row and column, as one hash; `tables` blank: every table.
std::string contentOf(const std::filesystem::path& file, const std::vector<std::string>& tables = {},
                      const std::map<std::string, int>& widths = {});

/// The first column of a query on a closed shop's file.
std::int64_t countInFile(const std::filesystem::path& folder, const char* sql);

} // namespace milehold::test
