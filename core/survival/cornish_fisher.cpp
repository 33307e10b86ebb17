// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/cornish_fisher.h"

#include <cstdint>
#include <iterator>

namespace milehold::core {

namespace {

// A product of cumulants is an earlier product (0: nothing, else the row before, from 1) times one more
// cumulant, and its coefficient is a polynomial in z^2, times z where the order is even.
struct Term {
    std::uint8_t parent;
    std::uint8_t cumulant; // 0 is l_3
    double polynomial[4];
};

// clang-format off
constexpr Term kTermTable[] = {
    {0, 0, {-1.0 / 6, 1.0 / 6, 0, 0}}, // l3
    {1, 0, {5.0 / 36, -1.0 / 18, 0, 0}}, // l3^2
    {0, 1, {-1.0 / 8, 1.0 / 24, 0, 0}}, // l4
    {2, 0, {17.0 / 324, -53.0 / 324, 1.0 / 27, 0}}, // l3^3
    {1, 1, {-1.0 / 12, 5.0 / 24, -1.0 / 24, 0}}, // l3 l4
    {0, 2, {1.0 / 40, -1.0 / 20, 1.0 / 120, 0}}, // l5
    {4, 0, {-1511.0 / 7776, 211.0 / 972, -7.0 / 216, 0}}, // l3^4
    {2, 1, {107.0 / 288, -103.0 / 288, 7.0 / 144, 0}}, // l3^2 l4
    {1, 2, {-7.0 / 60, 17.0 / 180, -1.0 / 90, 0}}, // l3 l5
    {3, 1, {-29.0 / 384, 1.0 / 16, -1.0 / 128, 0}}, // l4^2
    {0, 3, {1.0 / 48, -1.0 / 72, 1.0 / 720, 0}}, // l6
    {7, 0, {-2651.0 / 29160, 7531.0 / 14580, -331.0 / 1080, 8.0 / 243}}, // l3^5
    {4, 1, {19.0 / 81, -1513.0 / 1296, 803.0 / 1296, -5.0 / 81}}, // l3^3 l4
    {2, 2, {-1.0 / 12, 131.0 / 360, -181.0 / 1080, 2.0 / 135}}, // l3^2 l5
    {5, 1, {-1.0 / 9, 271.0 / 576, -43.0 / 192, 1.0 / 48}}, // l3 l4^2
    {1, 3, {1.0 / 48, -11.0 / 144, 13.0 / 432, -1.0 / 432}}, // l3 l6
    {3, 2, {1.0 / 30, -29.0 / 240, 1.0 / 20, -1.0 / 240}}, // l4 l5
    {0, 4, {-1.0 / 336, 1.0 / 112, -1.0 / 336, 1.0 / 5040}}, // l7
    {12, 0, {2542637.0 / 4199040, -2516857.0 / 2099520, 157307.0 / 349920, -143.0 / 3888}}, // l3^6
    {7, 1, {-109553.0 / 62208, 195259.0 / 62208, -16751.0 / 15552, 143.0 / 1728}}, // l3^4 l4
    {4, 2, {3937.0 / 6480, -3751.0 / 3888, 1427.0 / 4860, -11.0 / 540}}, // l3^3 l5
    {8, 1, {16367.0 / 13824, -13003.0 / 6912, 2731.0 / 4608, -11.0 / 256}}, // l3^2 l4^2
    {2, 3, {-265.0 / 1728, 275.0 / 1296, -293.0 / 5184, 1.0 / 288}}, // l3^2 l6
    {5, 2, {-139.0 / 288, 487.0 / 720, -91.0 / 480, 1.0 / 80}}, // l3 l4 l5
    {1, 4, {3.0 / 112, -2.0 / 63, 37.0 / 5040, -1.0 / 2520}}, // l3 l7
    {10, 1, {-107.0 / 1024, 451.0 / 3072, -131.0 / 3072, 3.0 / 1024}}, // l4^3
    {3, 3, {19.0 / 384, -23.0 / 384, 17.0 / 1152, -1.0 / 1152}}, // l4 l6
    {6, 2, {3.0 / 100, -11.0 / 300, 11.0 / 1200, -1.0 / 1800}}, // l5^2
    {0, 5, {-1.0 / 384, 1.0 / 384, -1.0 / 1920, 1.0 / 40320}}, // l8
};
// clang-format on
constexpr std::size_t kOddOrders[] = {0, 3, 4, 5, 11, 12, 13, 14, 15, 16, 17};
constexpr std::size_t kLastOrder = 18; // first row of order 6

bool isOddOrder(std::size_t row) {
    for (const std::size_t odd : kOddOrders)
        if (row == odd)
            return true;
    return false;
}

} // namespace

CornishFisher::CornishFisher(double z) : z_(z) {
    static_assert(std::size(kTermTable) == kTerms);
    const double square = z * z;
    for (std::size_t i = 0; i < kTerms; ++i) {
        const double* const c = kTermTable[i].polynomial;
        coefficients_[i] =
            (c[0] + square * (c[1] + square * (c[2] + square * c[3]))) * (isOddOrder(i) ? 1 : z);
    }
}

CornishFisher::Value CornishFisher::operator()(const std::array<double, kCumulants>& cumulants) const {
    std::array<double, kTerms + 1> products;
    products[0] = 1;
    double sum = z_;
    double last = 0;
    for (std::size_t i = 0; i < kTerms; ++i) {
        products[i + 1] = products[kTermTable[i].parent] * cumulants[kTermTable[i].cumulant];
        (i < kLastOrder ? sum : last) += coefficients_[i] * products[i + 1];
    }
    return {sum + last, last};
}

} // namespace milehold::core
