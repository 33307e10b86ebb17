// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/exchange/records_file.h"
#include "storage/shop.h"
#include "tests/fuzz/promise.h"
#include "tests/fuzz/targets.h"

#include <QCoreApplication>

#include <filesystem>
#include <stdlib.h>
#include <string>

namespace milehold::fuzz {

namespace {

namespace fs = std::filesystem;

/// A shop in memory for as long as the program runs.
class ShopOnce {
public:
    ShopOnce() {
        if (QCoreApplication::instance() == nullptr)
            application_ = std::make_unique<QCoreApplication>(count_, arguments_);
        std::string pattern = (fs::exists("/dev/shm") ? "/dev/shm" : fs::temp_directory_path().string()) +
                              std::string("/milehold-fuzz-XXXXXX");
        folder_ = ::mkdtemp(pattern.data());
        core::ShopSettings settings;
        settings.name = "Fuzz";
        settings.currency = "USD";
        auto made = storage::Shop::create(folder_ / "Fuzz.milehold", settings);
        promise(made.has_value(), "a shop can be made");
        shop_ = std::move(*made);
        core::Vehicle vehicle;
        vehicle.vin = "0TK4RM27XKP042788"; // invented, its check digit right
        vehicle.maker = "Hollin";
        vehicle.model = "Tallow";
        vehicle.modelYear = 1989;
        promise(shop_->vehicles().save(vehicle).has_value(), "a vehicle can be saved");
        head_ = shop_->changeLog().head().value();
    }
    ~ShopOnce() {
        shop_.reset();
        std::error_code ignored;
        fs::remove_all(folder_, ignored);
    }
    ShopOnce(const ShopOnce&) = delete;
    ShopOnce& operator=(const ShopOnce&) = delete;
    storage::Shop& shop() { return *shop_; }
    const storage::ChainHead& head() const { return head_; }

private:
    int count_ = 1;
    char name_[5] = "fuzz";
    char* arguments_[2] = {name_, nullptr};
    std::unique_ptr<QCoreApplication> application_;
    fs::path folder_;
    std::unique_ptr<storage::Shop> shop_;
    storage::ChainHead head_;
};

} // namespace

void records(std::string_view bytes) {
    using storage::RecordFile;
    static ShopOnce once;
    if (bytes.empty())
        return;
    constexpr std::array kFiles = {RecordFile::Customers, RecordFile::Vehicles, RecordFile::Jobs,
                                   RecordFile::FollowUps, RecordFile::Odometers};
    const auto choice = static_cast<unsigned char>(bytes.front());
    bytes.remove_prefix(1);
    const auto report =
        storage::importRecords(once.shop(), kFiles[choice % kFiles.size()], storage::bytesOf(bytes), "fuzz",
                               {.dryRun = true, .update = (choice & 0x80U) != 0});
    if (!report) {
        promise(report.error().code == core::ErrorCode::InvalidInput,
                "bad text is the only thing that fails");
        promise(report.error().detail.starts_with("fuzz"), "an error says where");
    } else {
        promise(!report->kept, "a trial keeps nothing");
        promise(report->added + report->changed + report->there <= report->rows, "each row is counted once");
    }
    promise(once.shop().changeLog().head() == once.head(), "the shop is as it was");
}

} // namespace milehold::fuzz
