// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <cstddef>

namespace milehold::core {

/// The Cornish-Fisher expansion of a quantile at one fixed probability: its polynomials in the normal deviate
/// are worked out once, and each quantile then costs some sixty multiplications.
///
/// For a variable of mean 0 and variance 1 whose cumulants shrink like l_r = O(e^(r-2)), up to terms of order
/// e^6. Source: Cornish & Fisher 1937; the equations of Hill & Davis 1968, Ann Math Stat 39:1264, solved
/// order by order in
///         exact fractions (the first eleven rows are those of Abramowitz & Stegun 26.2.49).
class CornishFisher {
public:
    static constexpr std::size_t kCumulants = 6; ///< l_3 ... l_8

    /// z: the standard normal quantile at the probability.
    explicit CornishFisher(double z);

    struct Value {
        double quantile = 0;
        double lastOrder = 0; ///< what the terms of order e^6 add: more than the error of stopping there
    };
    Value operator()(const std::array<double, kCumulants>& cumulants) const;

private:
    static constexpr std::size_t kTerms = 29;
    double z_;
    std::array<double, kTerms> coefficients_{};
};

} // namespace milehold::core
