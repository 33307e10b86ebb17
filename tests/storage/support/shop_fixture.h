// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/job.h"
#include "core/shop/people.h"
#include "core/shop/settings.h"
#include "core/shop/shelf.h"
#include "core/shop/vehicle.h"
#include "storage/shop.h"

#include <gtest/gtest.h>

#include <filesystem>
#include <memory>
#include <string>

namespace milehold::test {

namespace fs = std::filesystem;

/// A folder of a test's own, removed at the end.
class TemporaryFolder {
public:
    TemporaryFolder();
    ~TemporaryFolder();
    TemporaryFolder(const TemporaryFolder&) = delete;
    TemporaryFolder& operator=(const TemporaryFolder&) = delete;
    const fs::path& path() const { return path_; }

private:
    fs::path path_;
};

/// Text that trips careless code: quotes, SQL, umlauts, signs beyond the basic plane, line ends, blanks at
/// the ends.
std::string oddText();
std::string longText();

core::Date day(int year, unsigned month, unsigned dayOfMonth);

/// Records with every field set, that pass validation; ids are made.
core::ShopSettings someSettings();
core::Staff someStaff();
core::Customer someCustomer();
core::EngineFamily someFamily();
core::Vehicle someVehicle();

/// An open shop with a fixed clock, an engine family, a path, parts, a calibration, people, a customer and a
/// vehicle.
class ShopTest : public ::testing::Test {
protected:
    void SetUp() override;

    /// Whether the shop lies on the tests' server instead of in a folder.
    virtual bool isOnServer() const { return false; }
    storage::Shop& shop() { return *shop_; }
    /// How many rows a table holds, as a copy of the file or the server tells.
    std::int64_t rowsIn(const std::string& table);
    const std::string& address() const { return address_; }
    fs::path folder() const { return temporary_.path() / "Riverside.milehold"; }
    fs::path database() const { return folder() / "store" / "shop.db"; }
    /// Lets go of the shop as a killed program would, and opens it again.
    void reopen();
    core::Result<std::unique_ptr<storage::Shop>> tryOpen();
    void letGo() { shop_.reset(); }

    /// A finished repair of the vehicle; passes validation on `delivered` at so many miles.
    core::Job finishedJob(core::Date delivered = day(2031, 4, 9), std::int64_t miles = 50'000) const;
    core::Job saved(const core::Job& job);
    /// Runs SQL on the closed file behind the program's back.
    void runOnFile(const std::string& sql) const;

    core::EngineFamily family;
    core::PartNumber part;
    core::Calibration calibration;
    core::RepairPath path;
    core::Staff technician;
    core::Customer customer;
    core::Vehicle vehicle;
    core::Moment now = core::momentFromIso("2031-05-01T10:42:07.125Z").value();

private:
    TemporaryFolder temporary_;
    std::string address_; ///< on the server
    std::unique_ptr<storage::Shop> shop_;
};

/// The same test on both engines: TEST_P(Suite, Sentence), and ON_BOTH_ENGINES(Suite) once.
class EngineTest : public ShopTest, public ::testing::WithParamInterface<bool> {
protected:
    bool isOnServer() const override { return GetParam(); }
};

#define ON_BOTH_ENGINES(suite)                                                                               \
    INSTANTIATE_TEST_SUITE_P(Engines, suite, ::testing::Bool(), [](const auto& engine) {                     \
        return std::string(engine.param ? "OnServer" : "InFolder");                                          \
    })

/// `ASSERT_OK(result)`: the detail of the error is shown when it is one.
#define EXPECT_OK(result) EXPECT_TRUE((result).has_value()) << (result).error().detail
#define ASSERT_OK(result) ASSERT_TRUE((result).has_value()) << (result).error().detail
/// The result holds this value.
#define EXPECT_HOLDS(result, expected)                                                                       \
    do {                                                                                                     \
        const auto& holding_ = (result);                                                                     \
        EXPECT_OK(holding_);                                                                                 \
        EXPECT_TRUE(holding_.has_value() && *holding_ == (expected));                                        \
    } while (false)
#define EXPECT_FAILS(result, expected)                                                                       \
    do {                                                                                                     \
        const auto& failing_ = (result);                                                                     \
        ASSERT_FALSE(failing_.has_value());                                                                  \
        EXPECT_EQ(failing_.error().code, expected) << failing_.error().detail;                               \
    } while (false)

} // namespace milehold::test
