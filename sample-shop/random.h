// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/id.h"

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <initializer_list>
#include <numbers>
#include <random>
#include <span>

namespace milehold::sample {

/// Chance for the sample shop, the same on every machine: the engine is fixed by the C++ standard and the
/// distributions, which the standard leaves open, are written out here. Logarithms may differ in their last
/// digit between maths libraries; every result is rounded to whole miles, days or cents.
class Random {
public:
    explicit Random(std::uint64_t seed) : engine_(seed) {}

    /// In [0, 1).
    double uniform() { return static_cast<double>(engine_() >> 11U) * 0x1.0p-53; }
    double uniform(double low, double high) { return low + (high - low) * uniform(); }
    bool chance(double p) { return uniform() < p; }
    /// In [0, n); n > 0.
    std::size_t below(std::size_t n) { return static_cast<std::size_t>(uniform() * static_cast<double>(n)); }
    /// In [low, high], both ends included.
    std::int64_t between(std::int64_t low, std::int64_t high) {
        return low + static_cast<std::int64_t>(below(static_cast<std::size_t>(high - low + 1)));
    }
    template <class T> const T& pick(std::span<const T> items) { return items[below(items.size())]; }
    template <class T, std::size_t N> const T& pick(const std::array<T, N>& items) { return items[below(N)]; }
    /// Index of one of the weights, in proportion to them.
    std::size_t weighted(std::span<const double> weights) {
        double total = 0;
        for (const double weight : weights)
            total += weight;
        double left = uniform() * total;
        for (std::size_t i = 0; i + 1 < weights.size(); ++i) {
            if (left < weights[i])
                return i;
            left -= weights[i];
        }
        return weights.size() - 1;
    }
    std::size_t weighted(std::initializer_list<double> weights) {
        return weighted(std::span<const double>(weights.begin(), weights.size()));
    }

    double exponential(double mean) { return -mean * std::log1p(-uniform()); }
    /// Inverse of S(t) = exp(-(t / scale)^shape), given t > beyond.
    double weibull(double shape, double scale, double beyond = 0) {
        const double already = std::pow(beyond / scale, shape);
        return scale * std::pow(already - std::log1p(-uniform()), 1.0 / shape);
    }
    double normal() {
        const double radius = std::sqrt(-2.0 * std::log1p(-uniform()));
        return radius * std::cos(2.0 * std::numbers::pi * uniform());
    }
    double lognormal(double median, double sigma) { return median * std::exp(sigma * normal()); }

    /// A UUID of version 4, from this stream.
    core::Uuid uuid();
    template <class IdType> IdType id() { return IdType{uuid()}; }

private:
    std::mt19937_64 engine_;
};

/// A seed for the stream `index` of a sample: neighbouring indices give unrelated streams (SplitMix64's
/// finisher).
std::uint64_t streamSeed(std::uint64_t seed, std::uint64_t index);

} // namespace milehold::sample
