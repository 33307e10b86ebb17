// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/pointwise_limits.h"

#include "core/survival/numeric.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace milehold::core {

namespace {

// e^x - 1 for |x| <= kSmall by its series, whose remainder is below the rounding: loops of it need no library
// call.
constexpr double kSmall = 0.2;
double smallExponentialLess1(double x) {
    return x * (1 + x * (1.0 / 2 +
                         x * (1.0 / 6 +
                              x * (1.0 / 24 +
                                   x * (1.0 / 120 +
                                        x * (1.0 / 720 +
                                             x * (1.0 / 5040 +
                                                  x * (1.0 / 40320 + x * (1.0 / 362880 + x / 3628800)))))))));
}

// The steps of a curve at which S changes, a block at a time: limits stay the same from one comeback to the
// next, and working them out costs more than all the rest of a curve.
class Block {
public:
    static constexpr std::size_t kSize = 256;

    Block(LimitMethod method, double z) : method_(method), z_(z) {}

    // Steps [begin, end), at most kSize of them. Without branches: whether S changes is not to be guessed.
    void work(Curve& curve, std::size_t begin, std::size_t end) {
        const double* const survival = curve.survival.data();
        std::size_t at = 0;
        survival_[0] = survival[begin];
        se_[0] = curve.se[begin];
        for (std::size_t i = begin + 1; i < end; ++i) {
            at += survival[i] != survival[i - 1] ? 1 : 0;
            survival_[at] = survival[i];
            se_[at] = curve.se[i];
        }
        used_ = at + 1;
        if (method_ == LimitMethod::Linear)
            linear();
        else if (method_ == LimitMethod::Log)
            logarithmic();
        else if (!logLogOfMany())
            logLog();
        at = 0;
        curve.lower[begin] = lower_[0];
        curve.upper[begin] = upper_[0];
        for (std::size_t i = begin + 1; i < end; ++i) {
            at += survival[i] != survival[i - 1] ? 1 : 0;
            curve.lower[i] = lower_[at];
            curve.upper[i] = upper_[at];
        }
    }

private:
    using Column = std::array<double, kSize>;

    void linear() {
        for (std::size_t i = 0; i < used_; ++i) {
            lower_[i] = std::max(0.0, survival_[i] - z_ * se_[i]);
            upper_[i] = std::min(1.0, survival_[i] + z_ * se_[i]);
        }
    }

    void logarithmic() {
        for (std::size_t i = 0; i < used_; ++i) {
            const double factor = std::exp(z_ * se_[i] / survival_[i]);
            lower_[i] = survival_[i] / factor;
            upper_[i] = std::min(1.0, survival_[i] * factor);
        }
    }

    // S to the powers e^c and e^-c, c = z se / (S |ln S|).
    void logLog() {
        for (std::size_t i = 0; i < used_; ++i) {
            const double logSurvival = std::log(survival_[i]);
            const double factor = std::exp(-z_ * se_[i] / (survival_[i] * logSurvival));
            lower_[i] = std::exp(logSurvival * factor);
            upper_[i] = std::exp(logSurvival / factor);
        }
    }

    // The same when many lives make c and the moves of ln S small all over the block; else nothing is done.
    bool logLogOfMany() {
        double largest = 0;
        for (std::size_t i = 0; i < used_; ++i) {
            const double logSurvival = std::log(survival_[i]);
            const double c = -z_ * se_[i] / (survival_[i] * logSurvival);
            up_[i] = -logSurvival;
            down_[i] = c;
            largest =
                std::max({largest, c, -2 * c * logSurvival}); // |ln S (e^c - 1)| < 2 c |ln S| for small c
        }
        if (!(largest <= kSmall))
            return false;
        for (std::size_t i = 0; i < used_; ++i) {
            const double size = up_[i];
            up_[i] = -size * smallExponentialLess1(-down_[i]);
            down_[i] = -size * smallExponentialLess1(down_[i]);
        }
        for (std::size_t i = 0; i < used_; ++i) {
            upper_[i] = survival_[i] + survival_[i] * smallExponentialLess1(up_[i]);
            lower_[i] = survival_[i] + survival_[i] * smallExponentialLess1(down_[i]);
        }
        return true;
    }

    LimitMethod method_;
    double z_;
    std::size_t used_ = 0;
    Column survival_{}, se_{}, lower_{}, upper_{}, up_{}, down_{};
};

} // namespace

void addPointwiseLimits(Curve& curve) {
    const std::size_t h = curve.size();
    const bool logLog = curve.options.limits == LimitMethod::LogLog;
    curve.lowerBeforeFirst = 1;
    curve.upperBeforeFirst = 1;
    curve.limitsBeforeFirst = !logLog;
    curve.limitsEnd = curve.seEnd;
    curve.limitsBegin = 0;
    curve.lower.resize(h, 1.0);
    curve.upper.resize(h, 1.0);
    std::size_t i = 0;
    while (i < curve.limitsEnd && curve.survival[i] == 1)
        ++i; // at 1 the limits are 1, or do not exist
    if (logLog)
        curve.limitsBegin = i;
    Block block(curve.options.limits, twoSidedDeviate(curve.options.level));
    for (; i < curve.limitsEnd; i += Block::kSize)
        block.work(curve, i, std::min(i + Block::kSize, curve.limitsEnd));
}

} // namespace milehold::core
