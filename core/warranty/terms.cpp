// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/warranty/terms.h"

#include <algorithm>
#include <cmath>
#include <random>

namespace milehold::core {

namespace {

double failedBy(const LifeFit& fit, double miles) {
    if (!(miles > 0))
        return 0;
    const double z = (std::log(miles) - fit.location) / fit.scatter;
    // Without the loss of digits that 1 - S has where hardly anything fails.
    return fit.model == LifeModel::Lognormal ? standardSurvival(fit.model, -z) : -std::expm1(-std::exp(z));
}

bool neverHeld(const Observation& life) {
    return life.isExact() && life.lower == 0 && life.cameBack();
}

/// A share that never held, and a life distribution of those that did.
struct TwoParts {
    double never = 0;
    LifeFit rest;

    double failedBy(double miles) const { return never + (1 - never) * core::failedBy(rest, miles); }
};

/// The share is that of the lives that were watched from 0 on; one that was seen later had held.
Result<TwoParts> fitTwoParts(std::span<const Observation> lives, LifeModel model) {
    TwoParts parts;
    std::vector<Observation> rest;
    double fromZero = 0;
    for (const Observation& life : lives) {
        if (life.entry == 0)
            fromZero += life.weight;
        if (neverHeld(life))
            parts.never += life.weight;
        else
            rest.push_back(life);
    }
    if (parts.never > 0)
        parts.never /= fromZero;
    auto fit = fitLife(lifeData(rest), model);
    if (!fit)
        return failureOf(fit);
    parts.rest = *fit;
    return parts;
}

// An exponential weight of mean 1.
double randomWeight(std::mt19937_64& random) {
    return -std::log((static_cast<double>(random() >> 11) + 0.5) * 0x1.0p-53);
}

Result<void> check(std::span<const double> yearlyMiles, const WarrantyTerms& terms,
                   const WarrantyOptions& options) {
    if (!(terms.months > 0 && terms.miles > 0) || !std::isfinite(terms.months) || !std::isfinite(terms.miles))
        return fail(ErrorCode::InvalidInput, "the terms are more than 0 months and more than 0 miles");
    if (yearlyMiles.empty())
        return fail(ErrorCode::InvalidInput, "no driver's yearly miles are known");
    for (const double miles : yearlyMiles)
        if (!(miles >= 0) || !std::isfinite(miles))
            return fail(ErrorCode::InvalidInput, "yearly miles are 0 or more");
    if (!(options.jobs >= 0) || !(options.costEach >= 0) || !(options.level > 0 && options.level < 1) ||
        options.replicates < 2)
        return fail(ErrorCode::InvalidInput, "jobs and cost are 0 or more, the level lies between 0 and 1");
    return {};
}

double percentile(const std::vector<double>& sorted, double p) {
    const double at = p * static_cast<double>(sorted.size() - 1);
    const auto below = static_cast<std::size_t>(at);
    const std::size_t above = std::min(below + 1, sorted.size() - 1);
    return sorted[below] + (at - static_cast<double>(below)) * (sorted[above] - sorted[below]);
}

} // namespace

double coveredMiles(const WarrantyTerms& terms, double yearlyMiles) {
    return std::min(terms.miles, terms.months / 12 * yearlyMiles);
}

double warrantyShare(const LifeFit& fit, const WarrantyTerms& terms, std::span<const double> yearlyMiles) {
    double sum = 0;
    for (const double yearly : yearlyMiles)
        sum += failedBy(fit, coveredMiles(terms, yearly));
    return sum / static_cast<double>(yearlyMiles.size());
}

Result<WarrantyCost> warrantyCost(std::span<const Observation> lives, std::span<const double> yearlyMiles,
                                  const WarrantyTerms& terms, const WarrantyOptions& options) {
    if (const auto checked = check(yearlyMiles, terms, options); !checked)
        return failureOf(checked);
    const auto fit = fitTwoParts(lives, options.model);
    if (!fit)
        return failureOf(fit);
    double share = 0;
    for (const double yearly : yearlyMiles)
        share += fit->failedBy(coveredMiles(terms, yearly)) / static_cast<double>(yearlyMiles.size());

    std::mt19937_64 random(options.seed);
    std::vector<double> shares;
    std::vector<Observation> sample(lives.begin(), lives.end());
    int failures = 0;
    while (static_cast<int>(shares.size()) < options.replicates) {
        for (std::size_t i = 0; i < sample.size(); ++i) {
            // A row that stands for w lives gets the sum of w weights: gamma, by its mean and variance.
            const double w = lives[i].weight;
            std::gamma_distribution<double> gamma(w, 1.0);
            sample[i].weight = w == 1 ? randomWeight(random) : std::max(1e-12 * w, gamma(random));
        }
        double total = 0, weights = 0;
        const auto replicate = fitTwoParts(sample, options.model);
        for (const double yearly : yearlyMiles) {
            const double w = randomWeight(random);
            weights += w;
            if (replicate)
                total += w * replicate->failedBy(coveredMiles(terms, yearly));
        }
        if (replicate)
            shares.push_back(total / weights);
        else if (++failures > options.replicates)
            return fail(ErrorCode::NoConvergence, "too few lives for limits of the warranty's cost");
    }
    std::sort(shares.begin(), shares.end());
    const double tail = 0.5 * (1 - options.level);
    const Estimate part{share, std::min(share, percentile(shares, tail)),
                        std::max(share, percentile(shares, 1 - tail))};
    const auto times = [&](double factor) {
        return Estimate{part.value * factor, part.lower * factor, part.upper * factor};
    };
    return WarrantyCost{part, times(options.jobs), times(options.jobs * options.costEach)};
}

} // namespace milehold::core
