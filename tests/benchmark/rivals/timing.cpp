// SPDX-License-Identifier: GPL-3.0-or-later
// Times the fits on the very lives that rivals.R gives to R, and compares the convex-minorant steps with
// plain EM steps.
//
//     timing cox FILE        columns miles, end (1 = came back), x1 ... xp: seconds and coefficients
//     timing weibull FILE    the same file: seconds for shape and scale, counting included
//     timing groups FILE     the same file: seconds for four curves with log-log limits, and for the log-rank
//     test timing turnbull N      N random intervals: steps of either kind to a gap of 1e-6
//
// Seconds are processor time, the median of five runs on one thread; reading the file is not counted.
#include "core/survival/compare.h"
#include "core/survival/counts.h"
#include "core/survival/cox.h"
#include "core/survival/curve_taking.h"
#include "core/survival/life_fit.h"
#include "core/survival/turnbull.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <ctime>
#include <fstream>
#include <limits>
#include <random>
#include <sstream>
#include <string>

namespace {

using namespace milehold::core;

struct Table {
    Lives lives;
    FactorTable factors;
};

Table readTable(const char* path) {
    std::ifstream in(path);
    std::stringstream text;
    text << in.rdbuf();
    const std::string all = text.str();
    Table table;
    std::size_t at = all.find('\n');
    std::stringstream header(all.substr(0, at));
    for (std::string name; std::getline(header, name, ',');)
        if (name != "miles" && name != "end")
            table.factors.names.push_back(name);
    const char* cursor = all.c_str() + at + 1;
    const char* const end = all.c_str() + all.size();
    while (cursor < end) {
        char* next = nullptr;
        const auto number = [&] {
            const double value = std::strtod(cursor, &next);
            cursor = next + 1;
            return value;
        };
        table.lives.miles.push_back(number());
        table.lives.end.push_back(number() == 1 ? kCameBack : kHolding);
        for (std::size_t k = 0; k < table.factors.names.size(); ++k)
            table.factors.values.push_back(number());
    }
    return table;
}

template <class Work> double medianSeconds(Work work) {
    std::vector<double> seconds;
    for (int run = 0; run < 5; ++run) {
        const std::clock_t start = std::clock();
        work();
        seconds.push_back(static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC);
    }
    std::sort(seconds.begin(), seconds.end());
    return seconds[2];
}

int timeCox(const char* path) {
    const Table table = readTable(path);
    CoxOptions options;
    options.proportional = false;
    Result<CoxFit> fit = fitCox(table.lives, table.factors, options);
    if (!fit)
        return std::fprintf(stderr, "%s\n", fit.error().detail.c_str()), 1;
    const double seconds = medianSeconds([&] { fit = fitCox(table.lives, table.factors, options); });
    options.proportional = true;
    const double tested = medianSeconds([&] { fit = fitCox(table.lives, table.factors, options); });
    std::printf("seconds,%.17g\nseconds_with_test,%.17g\n", seconds, tested);
    for (const CoxTerm& term : fit->terms)
        std::printf("%s,%.17g\n", term.term.c_str(), term.coefficient);
    return 0;
}

int timeWeibull(const char* path) {
    const Table table = readTable(path);
    Result<LifeFit> fit = LifeFit();
    const auto work = [&] { fit = fitLife(lifeData(countsOfAll(table.lives)), LifeModel::Weibull); };
    work();
    if (!fit)
        return std::fprintf(stderr, "%s\n", fit.error().detail.c_str()), 1;
    const double seconds = medianSeconds(work);
    const Counts counts = countsOfAll(table.lives);
    const double counted = medianSeconds([&] { fit = fitLife(lifeData(counts), LifeModel::Weibull); });
    std::printf("seconds,%.17g\nseconds_from_counts,%.17g\nshape,%.17g\nscale,%.17g\n", seconds, counted,
                fit->shape(), fit->scale());
    return 0;
}

// Groups by the quarters of column x3, counting included.
int timeGroups(const char* path) {
    Table table = readTable(path);
    const auto& names = table.factors.names;
    const auto x3 = static_cast<std::size_t>(std::find(names.begin(), names.end(), "x3") - names.begin());
    if (x3 == names.size())
        return std::fprintf(stderr, "no column x3\n"), 1;
    table.lives.groupNames = {"1", "2", "3", "4"};
    for (std::size_t i = 0; i < table.lives.size(); ++i)
        table.lives.group.push_back(
            static_cast<std::uint32_t>(4 * table.factors.values[i * names.size() + x3]));
    double last = 0;
    const double curves = medianSeconds([&] {
        last = 0;
        for (Counts& counts : countsByGroup(table.lives))
            last += curveTaking(std::move(counts), {0.95, LimitMethod::LogLog})->survival.back();
    });
    double chiSquare = 0;
    const double compared =
        medianSeconds([&] { chiSquare = compare(countsByStratum(table.lives))->chiSquare.value_or(0); });
    std::printf("seconds_curve,%.17g\nlast,%.17g\nseconds_compare,%.17g\nchi_square,%.17g\n", curves, last,
                compared, chiSquare);
    return 0;
}

// Two looks a life, whole mileages, most intervals distinct.
std::vector<Observation> looks(std::size_t n) {
    std::mt19937_64 random(1);
    std::uniform_real_distribution<double> uniform(0, 1);
    std::vector<Observation> rows;
    while (rows.size() < n) {
        const double t = 60000 * std::pow(-std::log(uniform(random)), 1 / 1.5);
        const double first = std::floor(60000 * uniform(random)) + 1;
        const double second = first + 1 + std::floor(60000 * uniform(random));
        const double open = std::numeric_limits<double>::infinity();
        rows.push_back(t <= first    ? Observation{0, first, 0, 1}
                       : t <= second ? Observation{first, second, 0, 1}
                                     : Observation{second, open, 0, 1});
    }
    return rows;
}

int timeTurnbull(std::size_t n) {
    const auto rows = looks(n);
    TurnbullOptions fast, plain;
    fast.polished = plain.polished = plain.accelerated = false;
    Result<Turnbull> one = turnbull(rows, fast);
    const Result<Turnbull> two = turnbull(rows, plain);
    if (!one)
        return std::fprintf(stderr, "%s\n", one.error().detail.c_str()), 1;
    const int accelerated = one->steps;
    const double rough = medianSeconds([&] { one = turnbull(rows, fast); });
    const double fine = medianSeconds([&] { one = turnbull(rows); });
    std::printf("innermost_intervals,%zu\nsteps,%d\nseconds,%.6g\nseconds_polished,%.6g\ngap_polished,%.3g\n",
                one->intervals.size(), accelerated, rough, fine, one->gap);
    if (two)
        std::printf("em_steps,%d\nratio,%.1f\n", two->steps, static_cast<double>(two->steps) / accelerated);
    else
        std::printf("em_steps,more than %d\n", plain.mostSteps);
    return 0;
}

} // namespace

int main(int argc, char** argv) {
    if (argc == 3 && std::strcmp(argv[1], "cox") == 0)
        return timeCox(argv[2]);
    if (argc == 3 && std::strcmp(argv[1], "weibull") == 0)
        return timeWeibull(argv[2]);
    if (argc == 3 && std::strcmp(argv[1], "groups") == 0)
        return timeGroups(argv[2]);
    if (argc == 3 && std::strcmp(argv[1], "turnbull") == 0)
        return timeTurnbull(static_cast<std::size_t>(std::atol(argv[2])));
    std::fprintf(stderr, "timing cox|weibull|groups FILE, or timing turnbull N\n");
    return 2;
}
