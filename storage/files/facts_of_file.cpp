// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/database/raw_database.h"
#include "storage/files/facts.h"

namespace milehold::storage {

core::Result<Facts> factsOfSoundFile(const std::filesystem::path& file) {
    auto database = RawDatabase::openAlone(file);
    if (!database)
        return core::failureOf(database);
    const Ask ask = [&](std::string_view sql) { return database->ask(sql); };
    if (auto sound = checkSound(ask); !sound)
        return core::failureOf(sound);
    auto facts = readFacts(ask);
    if (!facts)
        return facts;
    if (auto closed = database->close(); !closed)
        return core::failureOf(closed);
    return facts;
}

} // namespace milehold::storage
