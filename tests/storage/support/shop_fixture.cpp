// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/storage/support/shop_fixture.h"

#include "storage/make_id.h"
#include "storage/server/setup_server.h"
#include "tests/support/postgresql_server.h"

#include <sqlite3.h>

#include <stdlib.h>

namespace milehold::test {

using core::Distance;

TemporaryFolder::TemporaryFolder() {
    // In memory where there is enough of it (a container may have 64 MB): what is tested here does not depend
    // on the disk.
    const fs::path memory = "/dev/shm";
    std::error_code none;
    const bool roomy = fs::exists(memory) && fs::space(memory, none).available > 2'000'000'000 && !none;
    std::string pattern = ((roomy ? memory : fs::temp_directory_path()) / "milehold-test-XXXXXX").string();
    path_ = ::mkdtemp(pattern.data());
}

TemporaryFolder::~TemporaryFolder() {
    std::error_code ignored;
    // A test may have taken the right to write away.
    for (const auto& entry : fs::recursive_directory_iterator(path_, ignored))
        if (entry.is_directory(ignored))
            fs::permissions(entry.path(), fs::perms::owner_all, ignored);
    fs::remove_all(path_, ignored);
}

std::string oddText() {
    return " 'Quoted' \"twice\" \\ %s :name ?1 -- ; DROP TABLE job; Größe 測定 \xF0\x9F\x9A\x97 "
           "e\xCC\x81\r\n\ttab ";
}

std::string longText() {
    std::string text;
    while (text.size() < 300'000)
        text += "Rattles for two seconds after a night outside, then quiet. Größe. ";
    return text;
}

core::Date day(int year, unsigned month, unsigned dayOfMonth) {
    return core::Date{std::chrono::year(year), std::chrono::month(month), std::chrono::day(dayOfMonth)};
}

core::ShopSettings someSettings() {
    core::ShopSettings settings;
    settings.name = "Riverside Timing";
    settings.unit = core::DistanceUnit::Miles;
    settings.currency = "USD";
    settings.locale = "en-US";
    settings.warrantyMonths = 24;
    settings.warrantyDistance = Distance::miles(24'000);
    settings.warrantyTerms = "Parts and labour.";
    settings.quietVisitCounts = false;
    settings.lostAfterMonths = 20;
    return settings;
}

core::Staff someStaff() {
    core::Staff staff;
    staff.id = storage::makeId<core::StaffId>();
    staff.name = "Mara Lindqvist";
    staff.technician = true;
    return staff;
}

core::Customer someCustomer() {
    core::Customer customer;
    customer.id = storage::makeId<core::CustomerId>();
    customer.name = "Ida Björkmann-Óros";
    customer.phones = {"+1 (555) 010-4477", "555-0199"};
    customer.emails = {"ida@example.org"};
    customer.bestTime = "after 4";
    customer.note = "Brings cake.";
    return customer;
}

core::EngineFamily someFamily() {
    core::EngineFamily family;
    family.id = storage::makeId<core::EngineFamilyId>();
    family.name = "Corvid V6";
    family.banks = 2;
    family.positions = {{1, core::CamRole::Intake},
                        {1, core::CamRole::Exhaust},
                        {2, core::CamRole::Intake},
                        {2, core::CamRole::Exhaust}};
    family.note = "Chain at the front.";
    return family;
}

core::Vehicle someVehicle() {
    core::Vehicle vehicle;
    vehicle.id = storage::makeId<core::VehicleId>();
    vehicle.vin = "0TK4RM27XKP042788"; // invented, its check digit right
    vehicle.plate = "AB-12 CD";
    vehicle.maker = "Hollin";
    vehicle.model = "Tallow";
    vehicle.modelYear = 1989;
    vehicle.note = "Tow hook.";
    return vehicle;
}

void ShopTest::SetUp() {
    if (isOnServer()) {
        ::setenv("XDG_DATA_HOME", (temporary_.path() / "station").c_str(), 1); // drafts of this station
        address_ = PostgresqlServer::shared().makeDatabase();
        ASSERT_OK(storage::makeShopOnServer(address_, someSettings()));
        reopen();
        ASSERT_NE(shop_, nullptr);
    } else {
        auto created = storage::Shop::create(folder(), someSettings(), {.clock = [this] { return now; }});
        ASSERT_OK(created);
        shop_ = std::move(*created);
    }
    shop_->setWho({std::nullopt, "bay 1"});

    auto savedFamily = shop().shelf().save(someFamily());
    ASSERT_OK(savedFamily);
    family = *savedFamily;
    part.number = "PH-2204";
    part.component = core::Component::Phaser;
    part.revisionLabel = "C";
    auto savedPart = shop().shelf().save(part);
    ASSERT_OK(savedPart);
    part = *savedPart;
    calibration.code = "K7-0031";
    calibration.module = "engine";
    calibration.family = family.id;
    auto savedCalibration = shop().shelf().save(calibration);
    ASSERT_OK(savedCalibration);
    calibration = *savedCalibration;
    path.name = "Both intake phasers";
    path.applies = {{.id = {},
                     .family = family.id,
                     .fromYear = {},
                     .toYear = {},
                     .needsCalibration = {},
                     .excludesCalibration = {}}};
    auto savedPath = shop().shelf().save(path);
    ASSERT_OK(savedPath);
    path = *savedPath;
    auto savedStaff = shop().staff().save(someStaff());
    ASSERT_OK(savedStaff);
    technician = *savedStaff;
    auto savedCustomer = shop().customers().save(someCustomer());
    ASSERT_OK(savedCustomer);
    customer = *savedCustomer;
    vehicle = someVehicle();
    vehicle.family = family.id;
    vehicle.customer = customer.id;
    auto savedVehicle = shop().vehicles().save(vehicle);
    ASSERT_OK(savedVehicle);
    vehicle = *savedVehicle;
}

core::Result<std::unique_ptr<storage::Shop>> ShopTest::tryOpen() {
    shop_.reset();
    return storage::Shop::open(isOnServer() ? fs::path(address_) : folder(),
                               {.clock = [this] { return now; }});
}

void ShopTest::reopen() {
    auto opened = tryOpen();
    ASSERT_OK(opened);
    shop_ = std::move(*opened);
}

core::Job ShopTest::finishedJob(core::Date delivered, std::int64_t miles) const {
    core::Job job;
    job.id = storage::makeId<core::JobId>();
    job.vehicle = vehicle.id;
    job.path = path.id;
    job.writtenUp = delivered;
    job.delivered = delivered;
    job.odometerIn = Distance::miles(miles);
    job.odometerOut = Distance::miles(miles + 4);
    job.technician = technician.id;
    job.concern = "Rattles at a cold start.";
    job.deliveryCheck = core::DeliveryCheck::Quiet;
    job.parts = {{.part = part.id,
                  .position = core::Position{1, core::CamRole::Intake},
                  .lot = "L1",
                  .quantity = 1,
                  .cost = {18'900}}};
    return job;
}

core::Job ShopTest::saved(const core::Job& job) {
    auto bundle = shop().jobs().save({job, std::nullopt, std::nullopt});
    EXPECT_OK(bundle);
    return bundle ? bundle->job : job;
}

std::int64_t ShopTest::rowsIn(const std::string& table) {
    if (!isOnServer())
        return shop().backUp(storage::BackupReason::OnDemand)->rows.at(table);
    const std::string database = address_.substr(address_.rfind('/') + 1);
    return std::stoll(PostgresqlServer::shared().ask(database, "SELECT count(*) FROM milehold." + table));
}

void ShopTest::runOnFile(const std::string& sql) const {
    sqlite3* handle = nullptr;
    ASSERT_EQ(sqlite3_open(database().c_str(), &handle), SQLITE_OK);
    char* problem = nullptr;
    EXPECT_EQ(sqlite3_exec(handle, sql.c_str(), nullptr, nullptr, &problem), SQLITE_OK) << problem;
    sqlite3_free(problem);
    sqlite3_close(handle);
}

} // namespace milehold::test
