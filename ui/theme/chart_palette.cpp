// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/theme/chart_palette.h"

#include <array>
#include <cstddef>

namespace milehold::ui {

namespace {

// Found by a seeded search for the largest smallest distance, the accent given, then set in an order in which
// neighbours differ most. The test recomputes the distances.
constexpr std::array<const char*, kSeriesLooks> kLight = {"#12505C", "#DC7023", "#633092", "#978E66",
                                                          "#7383F2", "#950F00", "#C36AB6", "#3E1115"};
constexpr std::array<const char*, kSeriesLooks> kDark = {"#7FC4CD", "#FD9B71", "#AE8FF9", "#F0E047",
                                                         "#517A9E", "#CB4E62", "#5CFEBB", "#8B7217"};
constexpr std::array<const char*, kSeriesLooks> kPrint = {"#101010", "#101010", "#6A6A6A", "#101010",
                                                          "#6A6A6A", "#101010", "#6A6A6A", "#6A6A6A"};

QVector<double> dashOf(std::size_t index) {
    switch (index) {
    case 0:
        return {};
    case 1:
        return {6, 3};
    case 2:
        return {1.5, 2.5};
    case 3:
        return {10, 3, 2, 3};
    case 4:
        return {12, 4};
    case 5:
        return {6, 2, 1.5, 2, 1.5, 2};
    case 6:
        return {3, 2};
    default:
        return {14, 3, 4, 3};
    }
}

} // namespace

SeriesLook seriesLook(int index, Scheme scheme) {
    const auto i = static_cast<std::size_t>(((index % kSeriesLooks) + kSeriesLooks) % kSeriesLooks);
    const char* colour = scheme == Scheme::Print ? kPrint[i] : scheme == Scheme::Dark ? kDark[i] : kLight[i];
    return {QColor(colour), dashOf(i)};
}

} // namespace milehold::ui
