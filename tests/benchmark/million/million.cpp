// SPDX-License-Identifier: GPL-3.0-or-later
// milehold_million SHOP TODAY [ROUNDS]: a large shop from its file to the Office's steps, and a filter
// changed in the Office, each beside its floor in the same run. See README.md.
#include "app/desktop/office_controller.h"
#include "app/desktop/office_review.h"
#include "app/desktop/session_loader.h"
#include "storage/shop.h"
#include "tests/benchmark/million/floors.h"
#include "ui/theme/theme.h"

#include <QApplication>
#include <QElapsedTimer>
#include <QTimer>

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <functional>
#include <memory>
#include <sys/resource.h>
#include <utility>

namespace milehold::benchmark {
namespace {

using app::Session;

/// A step's median, by the clock on the wall and of the processor (all threads), in milliseconds.
struct Span {
    double wall = 0, processor = 0;
};

Span measured(int rounds, const std::function<void()>& step) {
    std::vector<double> wall;
    std::vector<double> processor;
    for (int i = 0; i < rounds; ++i) {
        QElapsedTimer clock;
        const double before = processorMs(RUSAGE_SELF);
        clock.start();
        step();
        wall.push_back(static_cast<double>(clock.nsecsElapsed()) * 1e-6);
        processor.push_back(processorMs(RUSAGE_SELF) - before);
    }
    return {median(wall), median(processor)};
}

void print(const char* what, const Span& span, double floor) {
    std::printf("%-58s %9.1f ms, processor %9.1f ms", what, span.wall, span.processor);
    if (floor > 0)
        std::printf(", %6.2f x and %6.2f x its floor", span.wall / floor, span.processor / floor);
    std::printf("\n");
    std::fflush(stdout);
}

[[noreturn]] void fail(const char* what, const core::Error& error) {
    std::fprintf(stderr, "%s: %s\n", what, error.detail.c_str());
    std::exit(1);
}

template <class Value> Value must(core::Result<Value> result, const char* what) {
    if (!result)
        fail(what, result.error());
    return std::move(*result);
}

void close(storage::Shop& shop) {
    if (const auto closed = shop.close(); !closed)
        fail("close", closed.error());
}

/// How long the window's thread was kept from its events at the longest, by the clock on the wall and by what
/// it did itself in that time, which a busy machine does not lengthen.
struct Silence {
    double wall = 0, own = 0;
};

class Heartbeat {
public:
    Heartbeat() {
        beat_.setTimerType(Qt::PreciseTimer);
        beat_.setInterval(1);
        QObject::connect(&beat_, &QTimer::timeout, &beat_, [this] { look(); });
    }
    void start() {
        clock_.start();
        lastOwn_ = ownMs();
        lastWall_ = 0;
        beat_.start();
    }
    void stop() {
        look();
        beat_.stop();
    }
    const Silence& longest() const { return longest_; }

private:
    static double ownMs() {
        timespec used{};
        clock_gettime(CLOCK_THREAD_CPUTIME_ID, &used);
        return static_cast<double>(used.tv_sec) * 1e3 + static_cast<double>(used.tv_nsec) * 1e-6;
    }
    void look() {
        const double wall = static_cast<double>(clock_.nsecsElapsed()) * 1e-6;
        const double own = ownMs();
        longest_.wall = std::max(longest_.wall, wall - std::exchange(lastWall_, wall));
        longest_.own = std::max(longest_.own, own - std::exchange(lastOwn_, own));
    }

    QTimer beat_;
    QElapsedTimer clock_;
    double lastWall_ = 0, lastOwn_ = 0;
    Silence longest_;
};

void print(const Silence& silence) {
    std::printf("    the window's thread away from its events for %.1f ms at the longest, %.1f ms of them "
                "its own work\n",
                silence.wall, silence.own);
    std::fflush(stdout);
}

void waitUntil(const std::function<bool()>& done) {
    while (!done())
        QCoreApplication::processEvents(QEventLoop::AllEvents | QEventLoop::WaitForMoreEvents);
}

/// The queries whose cost is told, with the floor's words for them.
struct Change {
    const char* what;
    std::function<void(ui::OfficeQuery&)> set;
    std::string where;
};

std::vector<Change> changesOf(const Session& session) {
    const core::StaffId technician = session.lives()->front().technician.value_or(core::StaffId{});
    const auto path = session.lives()->front().life.path.value_or(core::RepairPathId{});
    return {
        {"one technician", [technician](ui::OfficeQuery& query) { query.technician = technician; },
         "technician = '" + core::toString(technician.uuid) + "'"},
        {"one path", [path](ui::OfficeQuery& query) { query.path = path; },
         "path = '" + core::toString(path.uuid) + "'"},
    };
}

void runWindow(const std::filesystem::path& folder, core::Date today, int rounds, double floorAll) {
    app::Database database;
    Session session([today] { return today; });
    app::SessionLoader loader(database, session);
    ui::OfficeRoom room;
    room.resize(1280, 800);
    room.show();
    app::OfficeController controller(room, database, session);
    waitUntil([&] { return room.view() != nullptr || !database.isBusy(); });
    Heartbeat heartbeat;

    QElapsedTimer clock;
    clock.start();
    heartbeat.start();
    const double before = processorMs(RUSAGE_SELF);
    database.open([folder] { return storage::Shop::open(folder); }, &database,
                  [&](const core::Result<void>& opened) {
                      if (!opened)
                          fail("open", opened.error());
                      loader.load();
                  });
    waitUntil([&] { return room.view() != nullptr && !room.view()->groups.empty(); });
    QCoreApplication::processEvents(); // painted
    const Span opened{static_cast<double>(clock.nsecsElapsed()) * 1e-6, processorMs(RUSAGE_SELF) - before};
    print("window: file on disk -> steps on screen, once", opened, floorAll);
    heartbeat.stop();
    print(heartbeat.longest());

    const ui::OfficeQuery bare = room.query();
    const auto ask = [&](const ui::OfficeQuery& query) {
        room.setQuery(query);
        emit room.queryChanged(query);
        waitUntil([&] {
            return room.view()->query.technician == query.technician && room.view()->query.path == query.path;
        });
        QCoreApplication::processEvents();
    };
    for (const Change& change : changesOf(session)) {
        const double floor = groupByMs(change.where, rounds);
        ui::OfficeQuery query = bare;
        change.set(query);
        Heartbeat changing;
        std::vector<double> wall;
        std::vector<double> processor;
        for (int i = 0; i < rounds; ++i) {
            ask(bare);
            changing.start();
            const Span once = measured(1, [&] { ask(query); });
            changing.stop();
            wall.push_back(once.wall);
            processor.push_back(once.processor);
        }
        std::printf("floor: GROUP BY where %-36s %9.1f ms\n", change.what, floor);
        print((std::string("window: filter to ") + change.what).c_str(), {median(wall), median(processor)},
              floor);
        print(changing.longest());
    }
    bool closed = false;
    database.close(&database, [&](const core::Result<void>&) { closed = true; });
    waitUntil([&] { return closed; });
}

int run(const std::filesystem::path& folder, core::Date today, int rounds) {
    const double reading = readThroughQtMs(folder / "store" / "shop.db", std::min(rounds, 3));
    std::printf("floor: the same rows through Qt Sql, forward-only %26.1f ms\n", reading);
    double floorAll = 0;
    {
        std::vector<core::LifeRecord> lives;
        core::Shelf shelf;
        std::vector<core::Staff> staff;
        Span derived;
        std::unique_ptr<storage::Shop> opened;
        const Span whole = measured(1, [&] {
            auto shop = must(storage::Shop::open(folder), "open");
            shelf = must(shop->shelf().load(), "shelf");
            staff = must(shop->staff().list(), "staff");
            derived = measured(1, [&] { lives = must(shop->lives().records(today), "lives"); });
            must(app::reviewLives(lives, shelf, staff, {}), "review");
            opened = std::move(shop);
        });
        close(*opened); // or the next opening would check it in full
        opened.reset();
        std::printf("%zu lives of %s\n", lives.size(), folder.c_str());
        print("lives derived from the histories", derived, reading);
        layOutFloor(lives);
        floorAll = groupByMs("", rounds);
        std::printf("floor: GROUP BY over the covering index %36.1f ms\n", floorAll);
        print("file on disk -> steps", whole, floorAll);
        print("all groups and their curves from the lives",
              measured(rounds, [&] { must(app::reviewLives(lives, shelf, staff, {}), "review"); }), floorAll);
    }
    runWindow(folder, today, rounds, floorAll);
    return 0;
}

} // namespace
} // namespace milehold::benchmark

int main(int argc, char** argv) {
    QApplication program(argc, argv);
    const auto today = argc > 2 ? milehold::core::dateFromIso(argv[2]) : std::nullopt;
    const int rounds = argc > 3 ? std::atoi(argv[3]) : 5;
    if (!today || rounds < 1) {
        std::fputs("milehold_million SHOP TODAY [ROUNDS]\n", stderr);
        return 2;
    }
    milehold::ui::theme::apply(program, milehold::ui::Scheme::Light);
    return milehold::benchmark::run(argv[1], *today, rounds);
}
