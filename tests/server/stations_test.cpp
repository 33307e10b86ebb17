// SPDX-License-Identifier: GPL-3.0-or-later
// Several stations at once: numbers, the change log's chain, lost updates, and what they hear of each other.
#include "storage/server/server_shop.h"
#include "tests/server/on_server.h"

#include <QCoreApplication>
#include <QElapsedTimer>
#include <QEventLoop>
#include <QTimer>

#include <algorithm>
#include <iostream>
#include <iterator>
#include <map>
#include <set>
#include <sstream>

namespace milehold::test {

namespace {

/// What a writer's lines say, by their first word.
struct Said {
    std::map<std::string, int> lines;
    std::vector<long> milliseconds;
    std::vector<std::string> errors;
    void add(const std::string& output) {
        std::istringstream in(output);
        for (std::string line; std::getline(in, line);) {
            std::istringstream words(line);
            std::string first;
            std::string id;
            long took = 0;
            words >> first;
            ++lines[first];
            if (first == "ok" && words >> id >> took)
                milliseconds.push_back(took);
            if (first == "error")
                errors.push_back(line);
        }
    }
};

template <class Done> bool waitFor(int milliseconds, Done done) {
    QElapsedTimer clock;
    clock.start();
    while (!done() && clock.elapsed() < milliseconds) {
        QEventLoop loop;
        QTimer::singleShot(5, &loop, &QEventLoop::quit);
        loop.exec();
    }
    return done();
}

} // namespace

class Stations : public OnServer {};

TEST_F(Stations, EightThatSaveAtOnceLeaveNoGapNoForkAndNoLostEdit) {
    constexpr int kStations = 8;
    const int jobs = manyOrFew(1000, 40);
    QElapsedTimer clock;
    clock.start();
    std::vector<std::unique_ptr<QProcess>> stations;
    for (int i = 0; i < kStations; ++i)
        stations.push_back(startWriter(address(), jobs, i));
    Said said;
    for (auto& station : stations) {
        ASSERT_TRUE(station->waitForFinished(600'000));
        EXPECT_EQ(station->exitCode(), 0);
        said.add(station->readAllStandardOutput().toStdString());
        EXPECT_EQ(station->readAllStandardError().toStdString(), "");
    }
    const int total = kStations * jobs;
    EXPECT_EQ(said.lines["ok"], total);
    EXPECT_TRUE(said.errors.empty()) << said.errors.size() << ", the first: " << said.errors.front();
    EXPECT_EQ(count("SELECT count(*) FROM milehold.job"), total);
    EXPECT_EQ(count("SELECT count(*) FROM milehold.job_line"), 2 * total);
    EXPECT_EQ(count("SELECT max(number) - min(number) + 1 FROM milehold.job"), total) << "a gap";
    EXPECT_EQ(count("SELECT next FROM milehold.counter"), total + 1);
    // Every word that a station was told is saved stands in the note: none was overwritten by another's.
    const auto shared = shop().customers().find(customer.id);
    ASSERT_OK(shared);
    EXPECT_EQ(static_cast<int>(shared->note.size() - customer.note.size()), said.lines["word"]);
    EXPECT_EQ(said.lines["word"], total / 5);
    const auto report = shop().verify(storage::CheckDepth::Full);
    ASSERT_OK(report);
    EXPECT_TRUE(report->sound()) << report->problems.front();
    std::ranges::sort(said.milliseconds);
    const long p99 = said.milliseconds.at(said.milliseconds.size() * 99 / 100);
    std::cout << "T10: " << kStations << " stations x " << jobs << " jobs in " << clock.elapsed() << " ms, "
              << said.lines["conflict"] << " edit conflicts told, saves: median "
              << said.milliseconds.at(said.milliseconds.size() / 2) << " ms, p99 " << p99 << " ms, worst "
              << said.milliseconds.back() << " ms\n";
    EXPECT_LT(said.milliseconds.back(), 3'000) << "longer than the lock would wait";
    if (manyOrFew(1, 0) == 1) { // asked for on a quiet machine
        EXPECT_LT(p99, 500);
        EXPECT_GT(said.lines["conflict"], 0) << "nobody edited what another had changed meanwhile";
    }
}

TEST_F(Stations, EveryOpenListFollowsWhatOthersSaveEvenAfterItsConnectionFell) {
    constexpr int kWriters = 4;
    const int jobs = manyOrFew(2500, 30);
    struct View {
        std::unique_ptr<storage::Shop> shop;
        std::set<std::string> jobs;
        int heard = 0;
        bool failed = false;
        void read() {
            const auto rows = shop->jobs().rows({.limit = 1'000'000});
            failed = !rows;
            if (failed)
                return;
            jobs.clear();
            for (const auto& row : *rows)
                jobs.insert(core::toString(row.id.uuid));
        }
    };
    std::vector<View> views(2);
    for (auto& view : views) {
        auto opened = storage::Shop::open(address());
        ASSERT_OK(opened);
        view.shop = std::move(*opened);
        ASSERT_OK(storage::listenToStations(*view.shop, [&view](const auto&) {
            ++view.heard;
            view.read();
        }));
    }
    std::vector<std::unique_ptr<QProcess>> writers;
    for (int i = 0; i < kWriters; ++i)
        writers.push_back(startWriter(address(), jobs, i));
    bool dropped = false;
    const auto finished = [&] {
        if (!dropped && count("SELECT count(*) FROM milehold.job") > kWriters * jobs / 3) {
            dropped = true; // those who listen lose their connection in the middle
            EXPECT_GE(count("SELECT count(pg_terminate_backend(pid)) FROM pg_stat_activity WHERE datname = "
                            "current_database() AND application_name = 'milehold notices'"),
                      2);
        }
        return std::ranges::all_of(writers,
                                   [](auto& one) { return one->waitForFinished(0) || one->state() == 0; });
    };
    ASSERT_TRUE(waitFor(600'000, finished));
    EXPECT_TRUE(dropped);
    QElapsedTimer clock;
    clock.start();
    const std::size_t wanted = static_cast<std::size_t>(kWriters) * static_cast<std::size_t>(jobs);
    const bool equal = waitFor(10'000, [&] {
        return std::ranges::all_of(views, [&](const View& view) { return view.jobs.size() == wanted; });
    });
    const auto took = clock.elapsed();
    EXPECT_TRUE(equal) << views[0].jobs.size() << " and " << views[1].jobs.size() << " of " << wanted;
    std::cout << "T12: " << kWriters << " writers x " << jobs << " jobs; both lists equal to the database "
              << took << " ms after the last save, after " << views[0].heard << " and " << views[1].heard
              << " refreshes, with every listener's connection ended once\n";
    std::istringstream stored(
        server().ask(database(), "SELECT string_agg(id, ' ') FROM milehold.job WHERE void_reason = ''"));
    const std::set<std::string> wantedJobs{std::istream_iterator<std::string>(stored), {}};
    for (const auto& view : views)
        EXPECT_TRUE(view.jobs == wantedJobs) << "another job than the database holds";
    EXPECT_LE(took, 2'500) << "2 s after the last change, and what looking costs on a loaded machine";
    for (auto& view : views)
        EXPECT_FALSE(view.failed);
}

TEST_F(Stations, ANoticeHoldsTheTableAndTheKeyAlone) {
    std::vector<storage::ChangeNotice> heard;
    auto other = storage::Shop::open(address());
    ASSERT_OK(other);
    ASSERT_OK(storage::listenToStations(
        **other, [&](const auto& notices) { heard.insert(heard.end(), notices.begin(), notices.end()); }));
    customer.note = "Canary words";
    ASSERT_OK(shop().customers().save(customer));
    ASSERT_TRUE(waitFor(3'000, [&] { return !heard.empty(); }));
    EXPECT_EQ(heard, (std::vector{storage::ChangeNotice{"customer", customer.id.uuid}}));
}

TEST_F(Stations, AnEditOfWhatAnotherChangedMeanwhileIsAConflictThatNamesWho) {
    auto other = storage::Shop::open(address());
    ASSERT_OK(other);
    (*other)->setWho({technician.id, "counter"});
    core::Vehicle theirs = vehicle;
    theirs.plate = "THEIRS 1";
    ASSERT_OK((*other)->vehicles().save(theirs));
    core::Vehicle mine = vehicle;
    mine.plate = "MINE 2";
    EXPECT_FAILS(shop().vehicles().save(mine), core::ErrorCode::Conflict);
    const auto changes = shop().changeLog().of("vehicle", vehicle.id.uuid);
    ASSERT_OK(changes);
    EXPECT_EQ(changes->front().who, (storage::Who{technician.id, "counter"}));
    EXPECT_EQ(shop().vehicles().find(vehicle.id)->plate, "THEIRS 1");
}

} // namespace milehold::test
