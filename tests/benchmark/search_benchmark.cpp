// SPDX-License-Identifier: GPL-3.0-or-later
// Search as somebody types, over a shop of 1,000,000 vehicles and 200,000 customers, beside one bare prefix
// query on the index of the VIN's tail: both by the same library on the same file.
#include "storage/make_id.h"
#include "storage/shop.h"

#include <QCoreApplication>

#include <benchmark/benchmark.h>
#include <sqlite3.h>

#include <filesystem>
#include <random>
#include <stdlib.h>
#include <string>

namespace milehold::benchmarks {

namespace {

namespace fs = std::filesystem;

constexpr int kVehicles = 1'000'000;
constexpr int kCustomers = 200'000;
constexpr std::size_t kHits = 12;
constexpr std::string_view kLetters = "ABCDEFGHJKLMNPRSTUVWXYZ0123456789"; // those of a VIN

/// Laid out once a run; the names are made of syllables, so that prefixes are as uneven as names are.
class LargeShelf {
public:
    LargeShelf() {
        if (QCoreApplication::instance() == nullptr)
            application_ = std::make_unique<QCoreApplication>(count_, arguments_);
        std::string pattern = (fs::temp_directory_path() / "milehold-search-XXXXXX").string();
        folder_ = ::mkdtemp(pattern.data());
        core::ShopSettings settings;
        settings.name = "Search";
        settings.currency = "USD";
        auto made = storage::Shop::create(shopFolder(), settings).value();
        static_cast<void>(made->close());
        made.reset();
        fill();
        sqlite3_open_v2(file().c_str(), &bare_, SQLITE_OPEN_READONLY, nullptr);
        copy_ = fs::path(folder_) / "bare.db";
        fs::copy_file(file(), copy_);
        sqlite3_close(bare_);
        sqlite3_open_v2(copy_.c_str(), &bare_, SQLITE_OPEN_READONLY, nullptr);
        shop_ = storage::Shop::open(shopFolder()).value();
    }
    ~LargeShelf() {
        sqlite3_close(bare_);
        shop_.reset();
        std::error_code ignored;
        fs::remove_all(folder_, ignored);
    }
    LargeShelf(const LargeShelf&) = delete;
    LargeShelf& operator=(const LargeShelf&) = delete;

    storage::Shop& shop() { return *shop_; }
    sqlite3* bare() const { return bare_; }
    const std::string& someTail() const { return tail_; }

private:
    fs::path shopFolder() const { return fs::path(folder_) / "Search.milehold"; }
    fs::path file() const { return shopFolder() / "store" / "shop.db"; }

    void fill() {
        sqlite3* handle = nullptr;
        sqlite3_open(file().c_str(), &handle);
        const auto run = [&](const char* sql) { sqlite3_exec(handle, sql, nullptr, nullptr, nullptr); };
        run("PRAGMA synchronous = OFF");
        run("PRAGMA cache_size = -400000");
        run("BEGIN");
        const auto prepare = [&](const char* sql) {
            sqlite3_stmt* statement = nullptr;
            sqlite3_prepare_v2(handle, sql, -1, &statement, nullptr);
            return statement;
        };
        sqlite3_stmt* const customer = prepare("INSERT INTO customer VALUES (?1, ?2, '', 0, '', 1)");
        sqlite3_stmt* const word = prepare("INSERT INTO customer_word VALUES (?1, ?2, ?3)");
        sqlite3_stmt* const vehicle = prepare(
            "INSERT INTO vehicle VALUES (?1, ?2, ?3, '', '', 'Hollin', 'Tallow', 2012, NULL, ?4, '', 1)");
        const auto text = [](sqlite3_stmt* statement, int at, const std::string& value) {
            sqlite3_bind_text(statement, at, value.data(), static_cast<int>(value.size()), SQLITE_TRANSIENT);
        };
        const auto step = [](sqlite3_stmt* statement) {
            sqlite3_step(statement);
            sqlite3_reset(statement);
        };
        std::mt19937_64 random(20310509); // NOLINT: a fixed seed is the point
        const std::string_view syllables[] = {"ma", "ra", "lin", "os", "kar", "be", "tho", "wen", "il", "sa"};
        std::vector<std::string> customers;
        for (int i = 0; i < kCustomers; ++i) {
            std::string first;
            std::string last;
            for (int part = 0; part < 3; ++part) {
                first += syllables[random() % std::size(syllables)];
                last += syllables[random() % std::size(syllables)];
            }
            const std::string id = core::toString(storage::makeUuid());
            text(customer, 1, id);
            text(customer, 2, first + " " + last);
            step(customer);
            for (int place = 0; place < 2; ++place) {
                text(word, 1, id);
                sqlite3_bind_int(word, 2, place);
                text(word, 3, place == 0 ? first : last);
                step(word);
            }
            customers.push_back(id);
        }
        for (int i = 0; i < kVehicles; ++i) {
            std::string vin;
            for (int at = 0; at < 17; ++at)
                vin += kLetters[random() % kLetters.size()];
            tail_ = vin.substr(9);
            text(vehicle, 1, core::toString(storage::makeUuid()));
            text(vehicle, 2, vin);
            text(vehicle, 3, tail_);
            text(vehicle, 4, customers[random() % customers.size()]);
            step(vehicle);
        }
        for (auto* statement : {customer, word, vehicle})
            sqlite3_finalize(statement);
        run("COMMIT");
        sqlite3_close(handle);
    }

    int count_ = 1;
    char name_[7] = "search";
    char* arguments_[2] = {name_, nullptr};
    std::unique_ptr<QCoreApplication> application_;
    std::string folder_;
    fs::path copy_;
    sqlite3* bare_ = nullptr;
    std::string tail_;
    std::unique_ptr<storage::Shop> shop_;
};

LargeShelf& shelf() {
    static LargeShelf one;
    return one;
}

/// One keystroke as the index alone would answer it.
void FloorPrefixQuery(benchmark::State& state) {
    auto& large = shelf();
    sqlite3_stmt* statement = nullptr;
    sqlite3_prepare_v2(large.bare(),
                       "SELECT id FROM vehicle WHERE vin_tail BETWEEN ?1 AND ?2 ORDER BY vin_tail LIMIT 12",
                       -1, &statement, nullptr);
    const std::string from = large.someTail().substr(0, static_cast<std::size_t>(state.range(0)));
    const std::string to = from + "\xf4\x8f\xbf\xbf";
    for (auto _ : state) {
        sqlite3_bind_text(statement, 1, from.data(), static_cast<int>(from.size()), SQLITE_STATIC);
        sqlite3_bind_text(statement, 2, to.data(), static_cast<int>(to.size()), SQLITE_STATIC);
        int rows = 0;
        while (sqlite3_step(statement) == SQLITE_ROW)
            ++rows;
        benchmark::DoNotOptimize(rows);
        sqlite3_reset(statement);
    }
    sqlite3_finalize(statement);
}

void look(benchmark::State& state, const std::string& typed) {
    std::size_t hits = 0;
    for (auto _ : state) {
        const auto found = shelf().shop().vehicles().search(typed, kHits);
        hits = found ? found->size() : 0;
        benchmark::DoNotOptimize(hits);
    }
    state.counters["hits"] = static_cast<double>(hits);
}

void SearchVin(benchmark::State& state) {
    look(state, shelf().someTail().substr(0, static_cast<std::size_t>(state.range(0))));
}

void SearchName(benchmark::State& state) {
    look(state, std::string("maralinos maraoskar").substr(0, static_cast<std::size_t>(state.range(0))));
}

void SearchNothing(benchmark::State& state) {
    look(state, "zzzz qqqq");
}

BENCHMARK(FloorPrefixQuery)->Arg(1)->Arg(3)->Arg(8);
BENCHMARK(SearchVin)->Arg(1)->Arg(3)->Arg(8);
BENCHMARK(SearchName)->Arg(1)->Arg(4)->Arg(9)->Arg(14);
BENCHMARK(SearchNothing);

} // namespace

} // namespace milehold::benchmarks
