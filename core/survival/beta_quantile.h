// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/survival/cornish_fisher.h"

#include <cstdint>

namespace milehold::core {

/// A beta distribution with both parameters positive; the point 1 when b is 0, the point 0 when a is 0.
struct Beta {
    double a = 1;
    double b = 0;
};

/// Quantiles of many beta distributions at one tail probability p in (0, 0.5).
///
/// The relative error of the quantile, and of 1 less it, is below 1e-10. A distribution with both parameters
/// in the hundreds or more costs no incomplete beta: its log odds are nearly normal, and the expansion after
/// Cornish and Fisher says itself how good it is. Others are polished by Halley steps on the incomplete beta
/// of Boost.Math.
class BetaQuantile {
public:
    enum class Tail : std::uint8_t { Lower, Upper };
    BetaQuantile(double p, Tail tail);

    /// x with P(X < x) = p, or P(X > x) = p for the upper tail.
    double operator()(const Beta& beta) const;

    /// The same of the even mixture of two distributions, which is discontinuous when one of them is a point.
    double ofEvenMixture(const Beta& first, const Beta& second) const;

private:
    struct LogOdds {
        double value = 0;
        double error = 0; ///< a bound, as far as the expansion knows
    };
    LogOdds expanded(const Beta& beta) const;
    double polished(const Beta& first, const Beta& second, double logOdds) const;

    double p_;
    Tail tail_;
    CornishFisher expansion_;
};

} // namespace milehold::core
