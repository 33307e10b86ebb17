// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/cli/session.h"
#include "app/cli/shop_input.h"
#include "storage/exchange/lives_table.h"

#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace CLI {
class App;
}

namespace milehold::cli {

/// Which lives a command reads: those of a table, or those of a shop.
struct LivesInput {
    std::string csv;         ///< --csv FILE, "-" for standard input
    ShopInput shop;          ///< --shop NAME.milehold, --today
    std::string by = "path"; ///< --by: the facet that groups a shop's lives
    std::string stratumBy;   ///< --stratum-by: the facet that makes a shop's strata
    /// Of comebacks of a shop, or of a table exported from one, that nobody saw begin; else they stand where
    /// they were seen.
    bool keepIntervals = false;
};

/// Adds the options that name the lives.
void addLivesInput(CLI::App& options, LivesInput& input);
/// Adds --stratum-by, for the commands that stratify.
void addStrataInput(CLI::App& options, LivesInput& input);

/// Reads them, from whichever was named; sentences about a table that is good but odd go to standard error.
/// Errors: InvalidInput when no input was named, or both; those of storage::readLivesTable and livesFromShop.
core::Result<storage::LivesTable> readLives(Session& session, const LivesInput& input,
                                            const storage::LivesTableOptions& options = {});

/// Numbers of an option's value, "30000,70000". An option that was not given is an empty text: no numbers.
/// Errors: InvalidInput as `OPTION: what is wrong and what was expected`.
core::Result<std::vector<double>> numbersOption(std::string_view option, std::string_view text);

/// One number strictly between 0 and 1, for --level and shares.
core::Result<double> shareOption(std::string_view option, std::string_view text);

/// One finite number.
core::Result<double> numberOption(std::string_view option, std::string_view text);

/// Mileages of an option's value: numbers of 0 or more, in the order given.
core::Result<std::vector<double>> mileagesOption(std::string_view option, std::string_view text);

/// Names of an option's value, "a,b": none empty, none twice.
core::Result<std::vector<std::string>> namesOption(std::string_view option, std::string_view text);

} // namespace milehold::cli
