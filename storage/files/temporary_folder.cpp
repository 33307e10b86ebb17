// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/files/temporary_folder.h"

#include "storage/files/durable.h"
#include "storage/make_id.h"

namespace milehold::storage {

namespace fs = std::filesystem;

core::Result<std::unique_ptr<TemporaryFolder>> TemporaryFolder::make(const std::string& what) {
    std::error_code problem;
    const fs::path place = fs::temp_directory_path(problem);
    if (problem)
        return tl::unexpected(systemError(problem.value(), "find the place for temporary files"));
    std::unique_ptr<TemporaryFolder> folder(
        new TemporaryFolder(place / ("milehold-" + what + "-" + core::toString(makeUuid()))));
    if (auto made = makeFolder(folder->path()); !made)
        return core::failureOf(made);
    return folder;
}

TemporaryFolder::~TemporaryFolder() {
    std::error_code ignored;
    fs::remove_all(path_, ignored);
}

} // namespace milehold::storage
