// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/files/manifest.h"
#include "tests/fuzz/promise.h"
#include "tests/fuzz/targets.h"

namespace milehold::fuzz {

void manifest(std::string_view bytes) {
    const auto read = storage::backupFromJson(bytes);
    if (!read) {
        promise(read.error().code == core::ErrorCode::Unreadable, "a bad manifest is unreadable");
        return;
    }
    promise(read->bytes > 0 && read->schema > 0 && read->sha256.size() == 64, "figures are there");
    const auto again = storage::backupFromJson(storage::toJson(*read));
    promise(again.has_value() && *again == *read, "a manifest reads back as it was written");
}

} // namespace milehold::fuzz
