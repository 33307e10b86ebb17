// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/shop_input.h"

#include "storage/server/server_address.h"

#include <QCoreApplication>

#include <CLI/CLI.hpp>

#include <ctime>
#include <memory>

namespace milehold::cli {

using core::ErrorCode;
using core::Result;

namespace {

/// An application object for as long as a command needs one.
class QtForStorage {
public:
    QtForStorage() {
        if (QCoreApplication::instance() == nullptr)
            app_ = std::make_unique<QCoreApplication>(argc_, argv_);
    }

private:
    char name_[13] = "milehold-cli";
    char* argv_[2] = {name_, nullptr};
    int argc_ = 1;
    std::unique_ptr<QCoreApplication> app_;
};

Result<void> use(Result<std::unique_ptr<storage::Shop>> shop, const std::string& folder,
                 const std::function<Result<void>(storage::Shop&)>& work) {
    if (!shop)
        return core::fail(shop.error().code, storage::shownName(folder) + ": " + shop.error().detail);
    auto done = work(**shop);
    const auto closed = (*shop)->close();
    if (done && !closed)
        return core::fail(closed.error().code, folder + ": " + closed.error().detail);
    return done;
}

} // namespace

void addShopInput(CLI::App& command, ShopInput& input) {
    command
        .add_option("--shop", input.folder,
                    "the shop: a folder NAME.milehold, or postgresql://user@host/database")
        ->type_name("SHOP")
        ->required();
    command.add_option("--today", input.today, "the day on which it is looked at (default: today)")
        ->type_name("YYYY-MM-DD");
}

core::Date localToday() {
    const std::time_t now = std::time(nullptr);
    std::tm local{};
    localtime_r(&now, &local);
    return core::Date{std::chrono::year{local.tm_year + 1900},
                      std::chrono::month{static_cast<unsigned>(local.tm_mon + 1)},
                      std::chrono::day{static_cast<unsigned>(local.tm_mday)}};
}

Result<core::Date> dateOption(std::string_view option, const std::string& text, core::Date fallback) {
    if (text.empty())
        return fallback;
    if (const auto date = core::dateFromIso(text))
        return *date;
    return core::fail(ErrorCode::InvalidInput, std::string(option) + ": '" + text +
                                                   "' is not a date; expected YYYY-MM-DD, as 2031-04-09");
}

Result<void> withShop(const ShopInput& input, const std::function<Result<void>(storage::Shop&)>& work) {
    const QtForStorage qt;
    return use(storage::Shop::open(input.folder), input.folder, work);
}

Result<void> withNewShop(const std::string& folder, const core::ShopSettings& settings,
                         const std::function<Result<void>(storage::Shop&)>& work) {
    const QtForStorage qt;
    return use(storage::Shop::create(folder, settings), folder, work);
}

Result<void> withQt(const std::function<Result<void>()>& work) {
    const QtForStorage qt;
    return work();
}

} // namespace milehold::cli
