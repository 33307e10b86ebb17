// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/watch/funnel.h"

#include "core/survival/counts.h"

#include <boost/math/distributions/binomial.hpp>
#include <boost/math/distributions/poisson.hpp>

#include <algorithm>
#include <cmath>

namespace milehold::core {

namespace {

// Smallest count whose distribution function reaches p, less the part of its probability beyond p.
template <class Distribution>
double smoothQuantile(const Distribution& distribution, double p, double largest) {
    double low = -1, high = 1;
    while (high < largest && cdf(distribution, high) < p)
        high = std::min(largest, 2 * high);
    while (high - low > 1) {
        const double middle = std::floor(0.5 * (low + high));
        (cdf(distribution, middle) < p ? low : high) = middle;
    }
    const double at = cdf(distribution, high);
    const double below = high > 0 ? cdf(distribution, high - 1) : 0.0;
    return high - (at - p) / (at - below);
}

double winsorisedDispersion(std::span<const FunnelEntry> tallies) {
    std::vector<double> z;
    for (const FunnelEntry& tally : tallies)
        if (tally.expected > 0)
            z.push_back((tally.observed - tally.expected) / std::sqrt(tally.expected));
    std::sort(z.begin(), z.end());
    const std::size_t cut = z.size() / 10;
    double sum = 0;
    for (std::size_t i = 0; i < z.size(); ++i)
        sum += std::pow(std::clamp(z[i], z[cut], z[z.size() - 1 - cut]), 2);
    const auto n = static_cast<double>(z.size());
    return sum < n - 1 ? 1.0 : std::max(1.0, sum / n);
}

// Nelson-Aalen of one set of lives.
class HazardSteps {
public:
    explicit HazardSteps(const Counts& counts) : miles_(counts.miles), hazard_(counts.size()) {
        const std::vector<double> watched = counts.watched();
        double sum = 0;
        for (std::size_t i = 0; i < counts.size(); ++i) {
            if (counts.comebacks[i] > 0)
                sum += counts.comebacks[i] / watched[i];
            hazard_[i] = sum;
        }
    }

    double through(double miles) const {
        const auto past = std::upper_bound(miles_.begin(), miles_.end(), miles);
        return past == miles_.begin() ? 0.0 : hazard_[static_cast<std::size_t>(past - miles_.begin()) - 1];
    }

private:
    std::vector<double> miles_, hazard_;
};

} // namespace

double binomialFunnelLimit(double n, double theta, double p) {
    const boost::math::binomial_distribution<double> distribution(n, theta);
    return std::clamp(smoothQuantile(distribution, p, n) / n, 0.0, 1.0);
}

double poissonFunnelLimit(double expected, double p) {
    const boost::math::poisson_distribution<double> distribution(expected);
    return std::max(0.0, smoothQuantile(distribution, p, HUGE_VAL) / expected);
}

Funnel funnel(std::span<const FunnelEntry> tallies, std::size_t fewestForDispersion) {
    Funnel out;
    const auto usable =
        std::count_if(tallies.begin(), tallies.end(), [](const FunnelEntry& t) { return t.expected > 0; });
    if (static_cast<std::size_t>(usable) >= std::max<std::size_t>(2, fewestForDispersion))
        out.overDispersion = winsorisedDispersion(tallies);
    const double stretch = std::sqrt(out.overDispersion);
    for (const FunnelEntry& tally : tallies) {
        if (!(tally.expected > 0))
            continue;
        const auto limit = [&](double p) {
            return std::max(0.0, 1 + stretch * (poissonFunnelLimit(tally.expected, p) - 1));
        };
        out.points.push_back({tally.name, tally.observed, tally.expected, tally.observed / tally.expected,
                              limit(0.025), limit(0.975), limit(0.001), limit(0.999)});
    }
    return out;
}

std::vector<FunnelEntry> observedAndExpected(const Lives& lives, bool stratified) {
    const bool split = stratified && !lives.stratum.empty();
    const auto counts = split ? countsByPart(lives, lives.stratum, lives.stratumNames.size())
                              : std::vector<Counts>{countsOfAll(lives)};
    std::vector<HazardSteps> hazards;
    for (const Counts& one : counts)
        hazards.emplace_back(one);
    std::vector<FunnelEntry> tallies;
    for (const std::string& name : lives.groupNames)
        tallies.push_back({name, 0, 0});
    for (std::size_t i = 0; i < lives.size(); ++i) {
        const HazardSteps& hazard = hazards[split ? lives.stratum[i] : 0];
        FunnelEntry& tally = tallies[lives.groupOf(i)];
        const double entry = lives.entryOf(i);
        if (lives.cameBack(i))
            tally.observed += lives.weightOf(i);
        tally.expected +=
            lives.weightOf(i) * (hazard.through(lives.miles[i]) - (entry > 0 ? hazard.through(entry) : 0.0));
    }
    return tallies;
}

} // namespace milehold::core
