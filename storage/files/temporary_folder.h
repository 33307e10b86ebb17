// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"

#include <filesystem>
#include <memory>
#include <string>

namespace milehold::storage {

/// A folder of ours in the system's place for temporary files, removed with all that is in it.
class TemporaryFolder {
public:
    /// `what` stands in its name. Errors: DiskProblem, ReadOnly.
    static core::Result<std::unique_ptr<TemporaryFolder>> make(const std::string& what);
    ~TemporaryFolder();
    TemporaryFolder(const TemporaryFolder&) = delete;
    TemporaryFolder& operator=(const TemporaryFolder&) = delete;

    const std::filesystem::path& path() const { return path_; }

private:
    explicit TemporaryFolder(std::filesystem::path path) : path_(std::move(path)) {}
    std::filesystem::path path_;
};

} // namespace milehold::storage
