// SPDX-License-Identifier: GPL-3.0-or-later
// What the schema refuses by itself, whoever writes to it.
#include "storage/database/sqlite_connection.h"
#include "storage/database/statement.h"
#include "storage/make_id.h"
#include "storage/server/postgresql_connection.h"
#include "tests/storage/support/shop_fixture.h"

namespace milehold::test {

class Schema : public EngineTest {
protected:
    void SetUp() override {
        EngineTest::SetUp();
        job_ = saved(finishedJob());
        core::Job work = finishedJob(day(2031, 4, 10), 51'000);
        work.delivered.reset();
        inWork_ = saved(work);
        ASSERT_OK(shop().close());
        letGo();
        auto opened = isOnServer()
                          ? storage::openPostgresql(storage::parseServerAddress(address()).value(), "test")
                          : storage::openSqlite(database(), storage::Access::Write);
        ASSERT_OK(opened);
        database_ = *opened;
    }
    void TearDown() override {
        if (database_.isValid())
            storage::closeSqlite(database_);
    }
    /// The statement fails by a constraint. Each is tried alone: the database rolls it back by itself.
    void expectRefused(const std::string& sql) {
        const auto ran = storage::runPlain(database_, sql, "test");
        EXPECT_FALSE(ran.has_value()) << sql;
        if (!ran) {
            EXPECT_EQ(ran.error().code, core::ErrorCode::InvalidInput) << sql << "\n" << ran.error().detail;
        }
    }
    void expectTaken(const std::string& sql) {
        const auto ran = storage::runPlain(database_, sql, "test");
        EXPECT_TRUE(ran.has_value()) << sql << "\n" << ran.error().detail;
    }
    std::string job(const std::string& set) const {
        return "UPDATE job SET " + set + " WHERE id = '" + core::toString(job_.id.uuid) + "'";
    }
    core::Job job_;
    core::Job inWork_;
    QSqlDatabase database_;
};

ON_BOTH_ENGINES(Schema);

TEST_P(Schema, ADeliveredRepairIsComplete) {
    for (const char* set :
         {"path_id = NULL", "technician_id = NULL", "odometer_in = NULL", "odometer_out = NULL",
          "delivery_check = NULL", "delivery_check = ''", "delivery_check = 'fine'"})
        expectRefused(job(set));
    expectTaken(
        "UPDATE job SET path_id = NULL, technician_id = NULL, odometer_in = NULL WHERE delivered IS NULL");
}

TEST_P(Schema, ADeliveryIsNotBeforeTheWriteUp) {
    expectRefused(job("delivered = '2031-04-08'"));
    expectTaken(job("delivered = '2031-04-10'"));
}

TEST_P(Schema, OdometersAreNotNegativeAndDoNotFallWithinAJob) {
    expectRefused(job("odometer_in = -1"));
    expectRefused(job("odometer_out = odometer_in - 1"));
    expectRefused("UPDATE odometer SET shown = -1");
    expectTaken(job("odometer_out = odometer_in"));
}

TEST_P(Schema, DatesAreDatesAndNumbersAreNumbers) {
    expectRefused(job("written_up = '9.4.2031'"));
    expectRefused(job("delivered = '2031-4-9'"));
    expectRefused(job("odometer_in = 'far'"));
    if (!isOnServer()) // a server rounds it: the program binds whole numbers only
        expectRefused(job("parts_price = 12.5"));
    expectRefused(job("rev = 0"));
    expectRefused(job("kind = 'wash'"));
    expectRefused(job("payer = 'nobody'"));
    expectRefused(job("claim_state = 'lost'"));
    expectRefused(job("claim_state = NULL"));
    expectRefused(job("claim_amount = -1"));
    expectRefused(job("comeback_towing = NULL"));
    expectTaken(job("claim_state = 'to-file', claim_deadline = '2031-05-01', comeback_credit = 5"));
}

TEST_P(Schema, ADeliveredJobIsNeverDeleted) {
    const std::string id = core::toString(job_.id.uuid);
    expectRefused("DELETE FROM job WHERE id = '" + id + "'");
    if (!isOnServer())
        expectRefused("INSERT OR REPLACE INTO job SELECT * FROM job WHERE id = '" + id + "'");
    expectTaken("DELETE FROM job WHERE id = '" + core::toString(inWork_.id.uuid) + "'");
}

TEST_P(Schema, TheChangeLogOnlyGrowsAtItsEnd) {
    expectRefused("UPDATE change_log SET station = 'x'");
    expectRefused("DELETE FROM change_log WHERE seq = 1");
    if (!isOnServer())
        expectRefused("INSERT OR REPLACE INTO change_log SELECT * FROM change_log WHERE seq = 1");
    expectRefused("INSERT INTO change_log SELECT seq + 5000, at, staff_id, station, action, table_name, "
                  "row_id, fields, "
                  "hash_before, hash FROM change_log WHERE seq = 1");
    expectRefused(
        "INSERT INTO change_log SELECT 0, at, staff_id, station, action, table_name, row_id, fields, "
        "hash_before, hash FROM change_log WHERE seq = 1");
}

TEST_P(Schema, APromisedDayBelongsToACallLaterAndLiesAhead) {
    const auto call = [&](const std::string& outcome, const std::string& on) {
        return "INSERT INTO follow_up (id, job_id, date, outcome, odometer_estimated, note, call_on, rev) "
               "VALUES ('" +
               core::toString(storage::makeUuid()) + "', '" + core::toString(job_.id.uuid) +
               "', '2031-04-20', '" + outcome + "', 0, '', " + on + ", 1)";
    };
    expectRefused(call("call-later", "'2031-04-20'"));
    expectRefused(call("call-later", "'soon'"));
    expectRefused(call("quiet", "'2031-04-27'"));
    expectTaken(call("call-later", "'2031-04-21'"));
    expectTaken(call("call-later", "NULL"));
    expectTaken(call("quiet", "NULL"));
}

TEST_P(Schema, SupersessionHasNoCycle) {
    const std::string part_ = core::toString(part.id.uuid);
    const auto insertPart = [&](const std::string& id, const std::string& label, const std::string& next) {
        return "INSERT INTO part_number (id, number, component, revision_label, what_changed, superseded_by, "
               "supplier, "
               "rev) VALUES ('" +
               id + "', 'PH-2204', 'phaser', '" + label + "', '', " + next + ", '', 1)";
    };
    const std::string second = core::toString(storage::makeUuid());
    const std::string third = core::toString(storage::makeUuid());
    expectTaken(insertPart(second, "D", "'" + part_ + "'"));
    expectTaken(insertPart(third, "E", "'" + second + "'"));
    expectRefused("UPDATE part_number SET superseded_by = '" + third + "' WHERE id = '" + part_ + "'");
    expectRefused("UPDATE part_number SET superseded_by = id WHERE id = '" + part_ + "'");
    expectRefused(
        insertPart(core::toString(storage::makeUuid()), "C", "NULL")); // number and revision are taken
    const std::string calibration_ = core::toString(calibration.id.uuid);
    const std::string newer = core::toString(storage::makeUuid());
    expectTaken("INSERT INTO calibration (id, code, module, supersedes, rev) VALUES ('" + newer +
                "', 'K9', 'engine', '" + calibration_ + "', 1)");
    expectRefused("UPDATE calibration SET supersedes = '" + newer + "' WHERE id = '" + calibration_ + "'");
    expectRefused("UPDATE calibration SET from_year = 2000, to_year = 1999");
}

TEST_P(Schema, AComebackPointsToADeliveredJobOfTheSameVehicle) {
    const std::string inWork = core::toString(inWork_.id.uuid);
    expectRefused(job("comeback_of = '" + inWork + "'"));
    expectRefused(job("comeback_of = id"));
    expectRefused(job("comeback_of = '" + core::toString(storage::makeUuid()) + "'"));
    expectTaken("UPDATE job SET comeback_of = '" + core::toString(job_.id.uuid) + "' WHERE id = '" + inWork +
                "'");
}

TEST_P(Schema, AVinIsUniqueWhenPresent) {
    const auto insert = [&](const std::string& vin) {
        return "INSERT INTO vehicle (id, vin, vin_tail, plate, plate_key, maker, model, note, rev) VALUES "
               "('" +
               core::toString(storage::makeUuid()) + "', '" + vin + "', '', '', '', '', '', '', 1)";
    };
    expectRefused(insert(vehicle.vin));
    expectTaken(insert(""));
    expectTaken(insert(""));
}

TEST_P(Schema, EveryReferenceMustBeThere) {
    const std::string nobody = "'" + core::toString(storage::makeUuid()) + "'";
    for (const char* column :
         {"vehicle_id", "path_id", "technician_id", "advisor_id", "decided_by", "comeback_of"})
        expectRefused(job(std::string(column) + " = " + nobody));
    expectRefused("UPDATE vehicle SET customer_id = " + nobody);
    expectRefused("UPDATE vehicle SET family_id = " + nobody);
    expectRefused("UPDATE job_part SET part_id = " + nobody);
    expectRefused("UPDATE repair_path SET calibration_id = " + nobody);
    expectRefused("UPDATE path_applies SET family_id = " + nobody);
    expectRefused("UPDATE odometer SET job_id = " + nobody);
}

TEST_P(Schema, ThereIsOneShopAndOneCounter) {
    expectRefused(
        "INSERT INTO shop SELECT '00000000-0000-4000-8000-000000000002', 1, name, unit, currency, locale, "
        "warranty_months, warranty_distance, warranty_terms, default_yearly, quiet_visit_counts, "
        "lost_after_months, rev FROM shop");
    expectRefused("INSERT INTO counter (name, next) VALUES ('job', 1)");
    expectRefused("UPDATE counter SET next = 0");
}

TEST_P(Schema, AReadingNamesWhereItCameFrom) {
    expectRefused("UPDATE odometer SET source = 'typed'");
    expectRefused("UPDATE odometer SET source = 'call'");
    expectRefused("UPDATE odometer SET moment = ''");
    expectRefused("UPDATE odometer SET moment = 'in'"); // two readings of one moment of a job
    expectRefused("UPDATE odometer SET job_id = NULL");
}

} // namespace milehold::test
