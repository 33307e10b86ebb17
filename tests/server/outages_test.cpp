// SPDX-License-Identifier: GPL-3.0-or-later
// The server goes away in the middle of saves: what was told as saved is there, what was told as not saved is
// not.
#include "storage/make_id.h"
#include "storage/offline.h"
#include "storage/server/server_shop.h"
#include "tests/server/on_server.h"
#include "tests/server/proxy.h"

#include <QElapsedTimer>

#include <chrono>
#include <csignal>
#include <functional>
#include <iostream>
#include <map>
#include <random>
#include <sstream>
#include <thread>

namespace milehold::test {

using namespace std::chrono_literals;

class Outages : public OnServer {
protected:
    /// Lets a writer save, does `harm` so many times at odd moments, and compares what it was told with what
    /// is stored.
    void during(const std::string& name, int times, const std::function<void()>& harm) {
        const auto writer = startWriter(address(), 0, 1);
        std::string output;
        const auto read = [&] {
            writer->waitForReadyRead(1);
            output += writer->readAllStandardOutput().toStdString();
        };
        const auto saved = [&] {
            std::size_t n = 0;
            for (auto at = output.find("\nok "); at != std::string::npos; at = output.find("\nok ", at + 1))
                ++n;
            return n;
        };
        std::mt19937 random(11); // NOLINT: a fixed seed is the point
        for (int i = 0; i < times; ++i) {
            const std::size_t before = saved();
            QElapsedTimer clock;
            clock.start();
            while (saved() < before + 3 && clock.elapsed() < 30'000)
                read();
            ASSERT_GE(saved(), before + 3) << name << ": the writer no longer saves after outage " << i;
            std::this_thread::sleep_for(std::chrono::milliseconds(random() % 15));
            harm();
        }
        QElapsedTimer clock;
        clock.start();
        const std::size_t before = saved();
        while (saved() < before + 1 && clock.elapsed() < 30'000)
            read();
        EXPECT_GT(saved(), before) << name << ": not saved again after the last outage";
        writer->kill();
        writer->waitForFinished();
        output += writer->readAllStandardOutput().toStdString();
        EXPECT_EQ(writer->readAllStandardError().toStdString().find("Canary"), std::string::npos);
        compare(name, times, output);
    }

    void compare(const std::string& name, int times, const std::string& output) {
        std::map<std::string, std::string> told; // by key; "try" is what the kill cut off
        std::istringstream lines(output);
        for (std::string line; std::getline(lines, line);) {
            std::istringstream words(line);
            std::string first;
            std::string id;
            words >> first >> id;
            if (first == "try" || first == "ok" || first == "no" || first == "unknown")
                told[id] = first;
            EXPECT_NE(first, "error") << line;
        }
        std::map<std::string, int> n;
        int lost = 0;
        int kept = 0;
        int half = 0;
        for (const auto& [id, what] : told) {
            ++n[what];
            const bool isThere = count("SELECT count(*) FROM milehold.job WHERE id = '" + id + "'") == 1;
            lost += what == "ok" && !isThere ? 1 : 0;
            kept += what == "no" && isThere ? 1 : 0;
            if (isThere)
                half +=
                    count("SELECT count(*) FROM milehold.job_line WHERE job_id = '" + id + "'") == 2 ? 0 : 1;
        }
        EXPECT_EQ(lost, 0) << name;
        EXPECT_EQ(kept, 0) << name;
        EXPECT_EQ(half, 0) << name;
        EXPECT_EQ(n["unknown"], 0) << name << ": the server was back in time to be asked";
        auto shop = storage::Shop::open(address());
        ASSERT_OK(shop);
        const auto report = (*shop)->verify(storage::CheckDepth::Full);
        ASSERT_OK(report);
        EXPECT_TRUE(report->sound()) << report->problems.front();
        std::cout << "T11 " << name << " x " << times << ": " << n["ok"] << " told saved, " << lost
                  << " of them lost; " << n["no"] << " told not saved, " << kept << " of them stored; "
                  << n["unknown"] << " left unknown; " << half << " half\n";
    }
    std::string backends() const {
        return "FROM pg_stat_activity WHERE datname = '" + database() +
               "' AND application_name = 'milehold records' "
               "AND pid <> pg_backend_pid()";
    }
};

TEST_F(Outages, SessionsEndedByTheKeeper) {
    letGo();
    during("sessions ended", manyOrFew(50, 8),
           [&] { count("SELECT count(pg_terminate_backend(pid)) " + backends()); });
}

TEST_F(Outages, AProcessOfTheServerKilled) {
    letGo();
    during("a server process killed", manyOrFew(50, 3), [&] {
        const auto pid = server().ask(database(), "SELECT coalesce(max(pid), 0) " + backends());
        if (pid != "0")
            ::kill(static_cast<pid_t>(std::stol(pid)),
                   SIGKILL); // all others are ended too, and the log is replayed
        std::this_thread::sleep_for(300ms);
        server().waitUntilItAnswers(); // replaying takes as long as there is log since the last checkpoint
    });
}

TEST_F(Outages, TheServerStoppedAndStarted) {
    letGo();
    bool quick = false;
    during("stopped and started", manyOrFew(50, 4), [&] {
        server().stop(quick ? SIGQUIT : SIGINT);
        quick = !quick;
        server().start();
    });
}

TEST_F(Outages, ACommitThatIsCutOffIsLookedUpByItsKey) {
    CuttingProxy proxy(server().port());
    const std::string through = "postgresql://keeper@127.0.0.1:" + std::to_string(proxy.port()) + "/" +
                                database() + "?sslmode=disable";
    auto shop = storage::Shop::open(through);
    ASSERT_OK(shop);
    const int times = manyOrFew(50, 12);
    int saved = 0;
    int refused = 0;
    for (int i = 0; i < times; ++i) {
        const bool done = i % 2 == 0;
        proxy.arm(done ? CuttingProxy::Cut::AfterServer : CuttingProxy::Cut::BeforeServer);
        core::Customer person = someCustomer();
        const auto answer = (*shop)->customers().save(person);
        const bool isThere = count("SELECT count(*) FROM milehold.customer WHERE id = '" +
                                   core::toString(person.id.uuid) + "'") == 1;
        EXPECT_EQ(isThere, done);
        EXPECT_EQ(answer.has_value(), isThere) << "told one thing, stored another";
        if (answer)
            ++saved;
        else
            refused += storage::isOffline(answer.error()) ? 1 : 0;
    }
    EXPECT_EQ(proxy.cuts(), times);
    EXPECT_EQ(saved + refused, times) << "some were left unknown";
    EXPECT_HOLDS((*shop)->changeLog().firstBroken(), std::optional<std::int64_t>());
    std::cout << "T11 cut commits: " << times << ", " << saved << " had arrived and were told so, " << refused
              << " had not and were told so\n";
}

TEST_F(Outages, ASaveWhileTheServerIsAwayFailsQuicklyAndTheNextOneAfterItIsBackWorks) {
    server().stop(SIGINT);
    QElapsedTimer clock;
    clock.start();
    customer.note = "typed while it was away";
    const auto refused = shop().customers().save(customer);
    ASSERT_FALSE(refused.has_value());
    EXPECT_TRUE(storage::isOffline(refused.error())) << refused.error().detail;
    EXPECT_FALSE(storage::reachServer(shop()).has_value());
    // What was typed is kept at this station, and not on the server.
    EXPECT_OK(shop().drafts().keep("customer", "typed while it was away"));
    const auto took = clock.elapsed();
    EXPECT_LT(took, 7'000);
    server().start();
    // A server that was just away is looked for again after a second and a half, not at every request.
    clock.start();
    while (!storage::reachServer(shop()) && clock.elapsed() < 5'000)
        std::this_thread::sleep_for(50ms);
    EXPECT_LT(clock.elapsed(), 3'000);
    EXPECT_OK(shop().customers().save(customer));
    EXPECT_EQ(shop().drafts().find("customer")->text, "typed while it was away");
    std::cout << "T11 away: told after " << took << " ms\n";
}

TEST_F(Outages, AWriterThatStandsStillKeepsOthersWaitingThreeSecondsAndNoLonger) {
    auto other = storage::Shop::open(address());
    ASSERT_OK(other);
    EXPECT_OK((*other)->together([&]() -> core::Result<void> {
        EXPECT_OK((*other)->customers().save(someCustomer()));
        QElapsedTimer clock;
        clock.start();
        customer.note = "waits";
        const auto busy = shop().customers().save(customer);
        EXPECT_EQ(busy.has_value() ? core::ErrorCode::Internal : busy.error().code, core::ErrorCode::InUse);
        EXPECT_GE(clock.elapsed(), 2'500);
        EXPECT_LT(clock.elapsed(), 4'500);
        return {};
    }));
    EXPECT_OK(shop().customers().save(customer));
}

} // namespace milehold::test
