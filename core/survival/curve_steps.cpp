// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/curve_steps.h"

#include "core/survival/pointwise_limits.h"
#include "core/survival/wide_loops.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <limits>
#include <numeric>
#include <optional>
#include <span>

namespace milehold::core {

namespace {

constexpr double kNotZero = 1e-300;

// A block of steps. Nothing moves but at those with a comeback: they are put side by side, worked out several
// at once in loops in which none waits for another, and then handed out to all steps of the block. None of
// the loops branches on whether there is a comeback, which is not to be guessed.
class Block {
public:
    static constexpr std::size_t kSize = PointwiseLimits::kMost;

    // Steps [begin, end), at most kSize of them, in order of the calls. Appends to every column.
    void work(Curve& curve, std::size_t begin, std::size_t end, std::optional<PointwiseLimits>& limits) {
        gather(curve, begin, end);
        estimate();
        curve.comebacks =
            std::accumulate(comebacks_.data() + 1, comebacks_.data() + used_ + 1, curve.comebacks);
        if (limits) {
            addLimits(*limits);
            handOut<6>({&survival_, &se_, &hazard_, &hazardSe_, &lower_, &upper_},
                       {&curve.survival, &curve.se, &curve.cumulativeHazard, &curve.cumulativeHazardSe,
                        &curve.lower, &curve.upper});
        } else {
            handOut<4>({&survival_, &se_, &hazard_, &hazardSe_},
                       {&curve.survival, &curve.se, &curve.cumulativeHazard, &curve.cumulativeHazardSe});
        }
    }

private:
    // Place 0 is what stood before the block, places from 1 on are its comebacks; one to spare.
    using Column = std::array<double, kSize + 2>;

    void gather(const Curve& curve, std::size_t begin, std::size_t end) {
        const double* const watched = curve.watched.data() + begin;
        const double* const comebacks = curve.comebacksAt.data() + begin;
        size_ = end - begin;
        std::size_t at = 0;
        for (std::size_t i = 0; i < size_; ++i) {
            watched_[at + 1] = watched[i];
            comebacks_[at + 1] = comebacks[i];
            at += comebacks[i] > 0 ? 1 : 0;
            place_[i] = static_cast<std::uint16_t>(at);
        }
        used_ = at;
    }

    void estimate() {
        Column stay, share, hazardPart, greenwoodPart;
        for (std::size_t k = 1; k <= used_; ++k) {
            const double d = comebacks_[k];
            const double n = watched_[k];
            share[k] = d / n;
            stay[k] = (n - d) / n;
            hazardPart[k] = share[k] / n;
            greenwoodPart[k] = share[k] / std::max(n - d, kNotZero);
        }
        double survival = survival_[0];
        double greenwood = greenwood_;
        double hazard = hazard_[0];
        double hazardVariance = hazardVariance_;
        for (std::size_t k = 1; k <= used_; ++k) {
            survival_[k] = survival *= stay[k];
            se_[k] = greenwood += greenwoodPart[k];
            hazard_[k] = hazard += share[k];
            hazardSe_[k] = hazardVariance += hazardPart[k];
        }
        greenwood_ = greenwood;
        hazardVariance_ = hazardVariance;
        for (std::size_t k = 1; k <= used_; ++k) {
            se_[k] = survival_[k] * std::sqrt(se_[k]);
            hazardSe_[k] = std::sqrt(hazardSe_[k]);
        }
    }

    // S never rises: those at 1 come first and have the limits 1; those at 0 come last and have none.
    void addLimits(PointwiseLimits& limits) {
        std::size_t from = 1;
        std::size_t to = used_ + 1;
        for (; from < to && survival_[from] == 1; ++from)
            lower_[from] = upper_[from] = 1;
        for (; from < to && survival_[to - 1] == 0; --to)
            lower_[to - 1] = upper_[to - 1] = 0;
        const auto part = [from, to](Column& column) {
            return std::span<double>(column.data() + from, column.data() + to);
        };
        limits.work(part(survival_), part(se_), part(lower_), part(upper_));
    }

    template <std::size_t N>
    void handOut(const std::array<Column*, N>& columns, const std::array<std::vector<double>*, N>& into) {
        std::array<std::array<double, kSize>, N> steps;
        for (std::size_t i = 0; i < size_; ++i)
            for (std::size_t c = 0; c < N; ++c)
                steps[c][i] = (*columns[c])[place_[i]];
        for (std::size_t c = 0; c < N; ++c) {
            into[c]->insert(into[c]->end(), steps[c].data(), steps[c].data() + size_);
            (*columns[c])[0] = (*columns[c])[used_];
        }
    }

    std::size_t size_ = 0, used_ = 0;
    std::array<std::uint16_t, kSize> place_{};
    Column watched_{}, comebacks_{}, survival_{1}, se_{}, hazard_{}, hazardSe_{}, lower_{1}, upper_{1};
    double greenwood_ = 0, hazardVariance_ = 0;
};

} // namespace

MILEHOLD_WIDE_LOOPS void addSteps(Curve& curve) {
    const std::size_t h = curve.size();
    const LimitMethod method = curve.options.limits;
    std::optional<PointwiseLimits> limits;
    if (method != LimitMethod::Exact && method != LimitMethod::ExactMidP)
        limits.emplace(method, curve.options.level);
    for (auto* column : {&curve.survival, &curve.se, &curve.cumulativeHazard, &curve.cumulativeHazardSe})
        column->reserve(h);
    for (auto* column : {&curve.lower, &curve.upper})
        column->reserve(h);
    Block block;
    for (std::size_t begin = 0; begin < h; begin += Block::kSize)
        block.work(curve, begin, std::min(h, begin + Block::kSize), limits);

    // S never rises, so that its ranges are found by halving.
    const auto firstBelow = [&curve](double bound) {
        return static_cast<std::size_t>(std::partition_point(curve.survival.begin(), curve.survival.end(),
                                                             [bound](double s) { return s >= bound; }) -
                                        curve.survival.begin());
    };
    curve.seEnd = firstBelow(std::numeric_limits<double>::denorm_min());
    if (!limits)
        return;
    curve.lowerBeforeFirst = 1;
    curve.upperBeforeFirst = 1;
    curve.limitsBeforeFirst = method != LimitMethod::LogLog;
    curve.limitsBegin = method == LimitMethod::LogLog ? std::min(firstBelow(1), curve.seEnd) : 0;
    curve.limitsEnd = curve.seEnd;
}

} // namespace milehold::core
