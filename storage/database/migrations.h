// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quantity/date.h"
#include "core/result.h"

#include <cstdint>
#include <string>
#include <vector>

class QSqlDatabase;

namespace milehold::storage {

/// One numbered step of the schema: `NNNN_what.sql`, its statements separated by lines `-- next`.
struct Migration {
    std::int64_t version = 0;
    std::string name;
    std::string sha256;
    std::vector<std::string> statements;
};

/// `text` of a migration file named `fileName`. Errors: Internal for a name without a number or a file
/// without SQL.
core::Result<Migration> parseMigration(const std::string& fileName, const std::string& text);

/// The steps built into the program for an engine (`sqlite`, `postgresql`), in order. Errors: Internal when
/// one is missing.
core::Result<std::vector<Migration>> builtInMigrations(const std::string& engine);

/// Brings a database from version `from` to the last of `steps`, each step in a transaction of its own with
/// its version and its row in `schema_migration`. Foreign keys are off meanwhile and checked before each
/// commit. Errors: the first failure; the steps before it stay, the failing one leaves nothing.
core::Result<void> migrate(QSqlDatabase& database, const std::vector<Migration>& steps, std::int64_t from,
                           core::Moment now);

} // namespace milehold::storage
