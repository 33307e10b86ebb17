// SPDX-License-Identifier: GPL-3.0-or-later
// The file for support: the shop's structure, its dates and distances, and not one word of a person. Each
// field that anybody can type into holds a canary, and none may be found in the file.
#include "storage/attachment_store.h"
#include "storage/exchange/support_file.h"
#include "storage/quote_store.h"
#include "tests/storage/exchange/records_file_fixture.h"

#include <QJsonArray>
#include <QJsonDocument>
#include <QJsonObject>

#include <gmock/gmock.h>

#include <fstream>

namespace milehold::test {

class SupportFile : public EngineTest {
protected:
    /// Fills every field of every record that a person types into.
    void SetUp() override {
        EngineTest::SetUp();
        core::ShopSettings settings = *shop().settings();
        settings.name = "CANARY shop";
        settings.warrantyTerms = "CANARY terms";
        ASSERT_OK(shop().saveSettings(settings));
        technician.name = "CANARY Staff";
        technician = *shop().staff().save(technician);
        family.name = "CANARY engine";
        family.note = "CANARY engine note";
        family = *shop().shelf().save(family);
        part.number = "CANARY-1";
        part.revisionLabel = "CANARY rev";
        part.whatChanged = "CANARY changed";
        part.supplier = "CANARY supplier";
        part = *shop().shelf().save(part);
        calibration.code = "CANARY-K7";
        calibration.module = "CANARY module";
        calibration = *shop().shelf().save(calibration);
        path.name = "CANARY path";
        path.lines = {"CANARY line"};
        path.cautions = {"CANARY caution"};
        path.replaceOnce = {"CANARY bolt"};
        path = *shop().shelf().save(path);
        core::ShelfNote note;
        note.subject = core::ShelfSubject::RepairPath;
        note.subjectId = path.id.uuid;
        note.text = "CANARY note";
        note.source = "CANARY source";
        ASSERT_OK(shop().shelf().save(note));
        customer.name = "CANARY Person 1960-05-04";
        customer.phones = {"+1 555 0104477 CANARY", "5550199"};
        customer.emails = {"canary@example.org"};
        customer.bestTime = "CANARY time";
        customer.note = "2029-12-24"; // a day that is no field of ours may be a birthday
        customer = *shop().customers().save(customer);
        vehicle.plate = "CANARY 12";
        vehicle.maker = "CANARY maker";
        vehicle.model = "CANARY model";
        vehicle.note = "CANARY vehicle note";
        vehicle = *shop().vehicles().save(vehicle);
        core::Job job = finishedJob(day(2031, 4, 9), 50'000);
        job.repairOrder = "CANARY-17";
        job.concern = "CANARY concern";
        job.cause = "CANARY cause";
        job.correction = "CANARY correction";
        job.lines = {"CANARY work"};
        job.oilGrade = "CANARY oil";
        job.calibrationBefore = "CANARY before";
        job.calibrationAfter = "CANARY after";
        job.parts[0].lot = "CANARY lot";
        job.codes = {{"P0011", false}, {"P0021", true}};
        job = saved(job);
        core::Job back = finishedJob(day(2031, 4, 20), 51'000);
        back.comebackOf = job.id;
        back.comebackDecision = core::ComebackDecision::Workmanship;
        back.comebackCause = "CANARY comeback";
        back.claimNumber = "CANARY claim";
        back = saved(back);
        ASSERT_OK(shop().jobs().voidJob(back.id, back.revision, "CANARY void"));
        core::FollowUp call;
        call.job = job.id;
        call.date = day(2031, 4, 25);
        call.outcome = core::FollowUpOutcome::Quiet;
        call.note = "CANARY call";
        ASSERT_OK(shop().followUps().save(call));
        const fs::path photo = place.path() / "a.png";
        std::ofstream(photo, std::ios::binary) << "\x89PNG\r\n\x1A\nCANARY bytes";
        const auto added = storage::attachmentsOf(shop()).add(job.id, photo, "CANARY photo.png");
        ASSERT_OK(added);
        hash = added->sha256;
        shop().setWho({technician.id, "CANARY station"});
        ASSERT_OK(shop().drafts().keep("job/CANARY", "CANARY draft"));
        customer.note = "CANARY again";
        customer = *shop().customers().save(customer);
    }
    std::string written() {
        std::ostringstream out;
        rows = 0;
        const auto done = storage::writeSupport(shop(), out);
        EXPECT_OK(done);
        rows = done.value_or(0);
        return out.str();
    }
    TemporaryFolder place;
    std::string hash;
    std::size_t rows = 0;
};

TEST_P(SupportFile, HoldsNoWordThatAnybodyTyped) {
    const std::string text = written();
    for (const auto& secret :
         {std::string("CANARY"), std::string("anary"), std::string("0104477"), std::string("5550199"),
          vehicle.vin, vehicle.vin.substr(9), std::string("1960-05-04"), std::string("2029-12-24"),
          std::string("ARY12"), hash, someCustomer().name, someCustomer().emails[0], someStaff().name,
          std::string("Riverside"), std::string("Corvid"), std::string("Hollin")})
        EXPECT_EQ(text.find(secret), std::string::npos) << secret;
}

TEST_P(SupportFile, KeepsStructureDatesAndDistances) {
    std::istringstream lines(written());
    std::map<std::string, int> counted;
    std::map<std::string, int> told;
    QJsonObject head;
    QJsonObject table;
    std::set<std::string> persons;
    bool delivered = false;
    bool miles = false;
    bool code = false;
    int all = 0;
    for (std::string line; std::getline(lines, line);) {
        const auto json = QJsonDocument::fromJson(QByteArray::fromStdString(line));
        if (json.isObject() && head.isEmpty()) {
            head = json.object();
        } else if (json.isObject()) {
            table = json.object();
            told[table["table"].toString().toStdString()] = table["rows"].toInt();
        } else {
            const auto name = table["table"].toString().toStdString();
            const auto columns = table["columns"].toArray();
            ASSERT_EQ(json.array().size(), columns.size()) << name;
            ++counted[name];
            ++all;
            for (int i = 0; i < columns.size(); ++i) {
                delivered = delivered || (name == "job" && columns[i] == QLatin1String("delivered") &&
                                          json.array()[i] == QLatin1String("2031-04-09"));
                miles = miles || (name == "job" && columns[i] == QLatin1String("odometer_in") &&
                                  json.array()[i].toInteger() == Distance::miles(50'000).metres());
                code = code || (name == "job_code" && json.array()[i] == QLatin1String("P0011"));
                if (columns[i] == QLatin1String("staff_id") && json.array()[i].isString())
                    persons.insert(json.array()[i].toString().toStdString());
            }
        }
    }
    EXPECT_EQ(head["milehold_support"].toInt(), 1);
    EXPECT_GT(head["schema"].toInt(), 2);
    EXPECT_EQ(head["drafts"].toInt(), 1);
    EXPECT_TRUE(head["problems"].toArray().isEmpty());
    EXPECT_TRUE(head["engine"].toString().startsWith(isOnServer() ? QLatin1String("postgresql ")
                                                                  : QLatin1String("sqlite ")));
    EXPECT_EQ(static_cast<std::size_t>(all), rows);
    EXPECT_EQ(told["job"], 2);
    EXPECT_GT(told["private_salt"], 0);
    for (const auto& [name, count] : counted)
        EXPECT_EQ(count, told[name]) << name;
    EXPECT_EQ(counted.count("private_salt") + counted.count("change_value") + counted.count("customer_word"),
              0U);
    EXPECT_TRUE(delivered);
    EXPECT_TRUE(miles);
    EXPECT_TRUE(code);
    EXPECT_TRUE(persons.contains(core::toString(technician.id.uuid))) << "records can still be followed";
}

TEST_P(SupportFile, IsForItsOwnerAloneAndLogged) {
    const fs::path file = place.path() / "support.json";
    ASSERT_OK(storage::exportSupport(shop(), file));
    EXPECT_EQ(fs::status(file).permissions() & fs::perms::all,
              fs::perms::owner_read | fs::perms::owner_write);
    EXPECT_EQ(shop().changeLog().newest(1)->front().table, "support");
    EXPECT_FAILS(storage::exportSupport(shop(), file), core::ErrorCode::InvalidInput);
    EXPECT_FAILS(storage::exportSupport(shop(), place.path() / "nowhere" / "x"), core::ErrorCode::NotFound);
}

ON_BOTH_ENGINES(SupportFile);

} // namespace milehold::test
