// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/cli/session.h"
#include "core/quantity/date.h"
#include "storage/shop.h"

#include <functional>
#include <string>

namespace CLI {
class App;
}

namespace milehold::cli {

/// Which shop a command reads, and which day is today for it.
struct ShopInput {
    std::string folder; ///< --shop NAME.milehold
    std::string today;  ///< --today, blank: the machine's
};

/// Adds the options that name the shop; `--shop` is then required.
void addShopInput(CLI::App& options, ShopInput& input);

/// The machine's local date.
core::Date localToday();
/// A date of an option's value, `fallback` when it was not given.
/// Errors: InvalidInput as `OPTION: what is wrong and what was expected`.
core::Result<core::Date> dateOption(std::string_view option, const std::string& text, core::Date fallback);

/// Opens the shop, runs `work` on it, and closes it. Qt's database drivers need an application object, which
/// is made here when there is none. Errors: those of storage::Shop::open, with the folder's name in front;
/// those of `work`.
core::Result<void> withShop(const ShopInput& input,
                            const std::function<core::Result<void>(storage::Shop&)>& work);
/// The same for a shop that is made first. Errors: those of storage::Shop::create.
core::Result<void> withNewShop(const std::string& folder, const core::ShopSettings& settings,
                               const std::function<core::Result<void>(storage::Shop&)>& work);

/// Runs work of the storage that opens no shop, with the application object that Qt needs.
core::Result<void> withQt(const std::function<core::Result<void>()>& work);

} // namespace milehold::cli
