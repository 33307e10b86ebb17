// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/charts/axis.h"

#include <QLocale>

#include <algorithm>
#include <cmath>

namespace milehold::ui {

namespace {

double niceStep(double rough) {
    const double power = std::pow(10.0, std::floor(std::log10(rough)));
    for (const double factor : {1.0, 2.0, 2.5, 5.0}) {
        if (factor * power >= rough * (1 - 1e-9))
            return factor * power;
    }
    return 10 * power;
}

} // namespace

std::vector<double> niceTicks(double from, double to, int most) {
    std::vector<double> ticks;
    if (!std::isfinite(from) || !std::isfinite(to) || to <= from)
        return ticks;
    const int parts = std::max(1, most - 1);
    const double step = niceStep((to - from) / parts);
    const double first = std::ceil(from / step - 1e-9);
    for (int i = 0; i <= parts + 1; ++i) {
        const double value = (first + i) * step;
        if (value > to + step * 1e-9)
            break;
        ticks.push_back(value == 0 ? 0.0 : value);
    }
    return ticks;
}

std::vector<double> logTicks(double from, double to, int most) {
    std::vector<double> ticks;
    if (!(from > 0) || !(to > from) || !std::isfinite(to))
        return ticks;
    const std::vector<std::vector<double>> choices = {{1, 1.5, 2, 3, 5, 7}, {1, 2, 5}, {1, 3}, {1}};
    for (const auto& factors : choices) {
        ticks.clear();
        for (double power = std::pow(10.0, std::floor(std::log10(from))); power <= to * 1.0001; power *= 10) {
            for (const double factor : factors) {
                const double value = factor * power;
                if (value >= from * 0.9999 && value <= to * 1.0001)
                    ticks.push_back(value);
            }
        }
        if (static_cast<int>(ticks.size()) <= most && !ticks.empty())
            return ticks;
    }
    // Many decades: every second, third ... of them.
    std::vector<double> thinned;
    const std::size_t every = (ticks.size() + static_cast<std::size_t>(std::max(1, most)) - 1) /
                              static_cast<std::size_t>(std::max(1, most));
    for (std::size_t i = 0; i < ticks.size(); i += std::max<std::size_t>(1, every))
        thinned.push_back(ticks[i]);
    return thinned;
}

QString tickText(double value, const std::vector<double>& ticks) {
    int decimals = 0;
    for (const double tick : ticks) {
        for (int d = 0; d <= 6; ++d) {
            const double scaled = tick * std::pow(10.0, d);
            if (std::abs(scaled - std::round(scaled)) < 1e-6 * std::max(1.0, std::abs(scaled))) {
                decimals = std::max(decimals, d);
                break;
            }
        }
    }
    return QLocale().toString(value, 'f', decimals);
}

QString shareTickText(double share, const std::vector<double>& ticks) {
    std::vector<double> percents;
    for (const double tick : ticks)
        percents.push_back(tick * 100);
    return tickText(share * 100, percents) + QChar(0x00a0) + QLocale().percent();
}

double Axis::at(double value) const {
    if (logarithmic) {
        const double low = std::log(from);
        return start + (std::log(std::max(value, 1e-300)) - low) / (std::log(to) - low) * (end - start);
    }
    return start + (value - from) / (to - from) * (end - start);
}

double Axis::valueAt(double pixel) const {
    const double share = (pixel - start) / (end - start);
    if (logarithmic)
        return std::exp(std::log(from) + share * (std::log(to) - std::log(from)));
    return from + share * (to - from);
}

} // namespace milehold::ui
