// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/server/write_anew.h"

#include "storage/database/statement.h"

#include <array>
#include <cassert>

namespace milehold::storage {

namespace {

constexpr auto kWhat = "write a table anew";
constexpr std::array kOfPeople = {
    "customer", "customer_phone", "customer_email", "customer_word", "vehicle",
    "job",      "follow_up",      "attachment",     "change_value",  "private_salt"};
constexpr std::array kOfFiles = {"attachment_file", "attachment_block"};
constexpr int kMostTries = 3; // each waits for others as long as a save would

bool writeAnew(Session& session, const char* table) {
    for (int attempt = 0; attempt < kMostTries; ++attempt) {
        Statement write(session, "SELECT milehold.write_anew(:of_table)", kWhat);
        write.bindText(":of_table", table);
        const auto ran = write.run();
        if (ran)
            return true;
        if (ran.error().code != core::ErrorCode::InUse)
            return false;
    }
    return false;
}

} // namespace

bool writePeopleAnew(Session& session, bool withFiles) {
    assert(session.unit() == nullptr);
    // Many photos take longer than any save may.
    if (!runPlain(session.database(), "SET statement_timeout = 0", kWhat))
        return false;
    bool all = true;
    for (const char* table : kOfPeople)
        all = writeAnew(session, table) && all;
    if (withFiles)
        for (const char* table : kOfFiles)
            all = writeAnew(session, table) && all;
    // A connection that does not take it back is lost, and the next one begins with it set.
    static_cast<void>(runPlain(session.database(), "SET statement_timeout = '15s'", kWhat));
    return all;
}

} // namespace milehold::storage
