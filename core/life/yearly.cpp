// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/life/life.h"
#include "core/life/odometer.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace milehold::core {

namespace {

constexpr int kMonthsOfReadings = 36;
constexpr std::int64_t kLeastSpanDays = 60;
constexpr double kDaysAYear = 365.25;

double median(std::vector<double>& values) {
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    if (values.size() % 2 == 1)
        return *middle;
    return (*std::max_element(values.begin(), middle) + *middle) / 2;
}

} // namespace

YearlyDistance yearlyDistance(const VehicleHistory& history, const ShopSettings& rules, Date today) {
    const Date from = addMonths(today, -kMonthsOfReadings);
    std::vector<Sighting> used;
    for (const auto& seen : sightings(history, Instruments(history))) {
        if (seen.estimated || seen.date < from || seen.date > today)
            continue;
        // A job and the reading that was stored with it are one sight of the odometer.
        if (!used.empty() && used.back().date == seen.date && used.back().run == seen.run)
            continue;
        used.push_back(seen);
    }
    if (used.empty() || daysBetween(used.front().date, used.back().date) < kLeastSpanDays)
        return {rules.defaultYearly, YearlySource::ShopDefault, 0};
    std::vector<double> slopes;
    slopes.reserve(used.size() * (used.size() - 1) / 2);
    for (std::size_t i = 0; i < used.size(); ++i)
        for (std::size_t k = i + 1; k < used.size(); ++k)
            if (const auto days = daysBetween(used[i].date, used[k].date); days > 0)
                slopes.push_back(static_cast<double>((used[k].run - used[i].run).metres()) /
                                 static_cast<double>(days));
    const double metres = std::max(median(slopes), 0.0) * kDaysAYear;
    return {Distance::fromMetres(std::llround(metres)), YearlySource::Readings,
            static_cast<int>(used.size())};
}

} // namespace milehold::core
