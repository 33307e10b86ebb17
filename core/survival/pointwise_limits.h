// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/survival/curve.h"

#include <array>
#include <cstddef>
#include <span>

namespace milehold::core {

/// Limits from S and its standard error: linear S -+ z se, log S exp(-+z se / S), log-log
/// exp(-exp(ln(-ln S) +- z se / (S |ln S|))), each cut to [0, 1]. They are pointwise and not made monotone.
/// Source: Kalbfleisch & Prentice 2002, The Statistical Analysis of Failure Time Data, section 1.4.
class PointwiseLimits {
public:
    static constexpr std::size_t kMost = 128; ///< values of S at a time

    /// `method` is Linear, Log or LogLog; level in (0, 1).
    PointwiseLimits(LimitMethod method, double level);

    /// Fills `lower` and `upper` for each S in (0, 1) with its se > 0; all four are equally long, at most
    /// kMost.
    void work(std::span<const double> survival, std::span<const double> se, std::span<double> lower,
              std::span<double> upper);

private:
    bool logLogOfMany(std::span<const double> survival, std::span<const double> se, std::span<double> lower,
                      std::span<double> upper);

    LimitMethod method_;
    double z_;
    std::array<double, kMost> up_{}, down_{};
};

} // namespace milehold::core
