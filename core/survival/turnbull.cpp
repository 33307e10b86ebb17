// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/turnbull.h"

#include "core/survival/innermost.h"
#include "core/survival/numeric.h"

#include <boost/math/distributions/binomial.hpp>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <random>

namespace milehold::core {

namespace {

std::vector<double> cumulated(std::span<const double> masses) {
    std::vector<double> sums(masses.size() + 1, 0.0);
    for (std::size_t j = 0; j < masses.size(); ++j)
        sums[j + 1] = sums[j] + masses[j];
    // The last sum is 1 but for rounding; made exact so that cells up to the end are not off.
    const double total = sums.back();
    for (double& sum : sums)
        sum /= total;
    return sums;
}

std::vector<double> differences(std::span<const double> cumulative) {
    std::vector<double> masses(cumulative.size() - 1);
    for (std::size_t j = 0; j < masses.size(); ++j)
        masses[j] = std::max(0.0, cumulative[j + 1] - cumulative[j]);
    return masses;
}

double gapOf(std::span<const double> slope, double weight) {
    return *std::max_element(slope.begin(), slope.end()) / weight - 1;
}

// One EM step: each row gives its weight to the intervals it covers, in proportion to their masses.
void expectationStep(std::vector<double>& cumulative, std::span<const double> slope, double weight) {
    std::vector<double> masses = differences(cumulative);
    for (std::size_t j = 0; j < masses.size(); ++j)
        masses[j] *= slope[j] / weight;
    cumulative = cumulated(masses);
}

// Weighted isotonic regression, pool adjacent violators.
std::vector<double> isotonic(std::span<const double> values, std::span<const double> weights) {
    struct Block {
        double mean, weight;
        std::size_t size;
    };
    std::vector<Block> blocks;
    for (std::size_t i = 0; i < values.size(); ++i) {
        blocks.push_back({values[i], weights[i], 1});
        while (blocks.size() > 1 && blocks[blocks.size() - 2].mean >= blocks.back().mean) {
            const Block last = blocks.back();
            blocks.pop_back();
            Block& into = blocks.back();
            const double total = into.weight + last.weight;
            into.mean += last.weight / total * (last.mean - into.mean);
            into.weight = total;
            into.size += last.size;
        }
    }
    std::vector<double> fitted;
    for (const Block& block : blocks)
        fitted.insert(fitted.end(), block.size, block.mean);
    return fitted;
}

// One iterative-convex-minorant step on the cumulative masses, by the diagonal of the second derivatives,
// halved until the likelihood grows.
void minorantStep(const InnermostProblem& problem, std::vector<double>& cumulative) {
    const std::size_t inner = cumulative.size() - 2;
    if (inner == 0)
        return;
    std::vector<double> slope(cumulative.size(), 0.0), curve(cumulative.size(), 0.0);
    for (const Cell& cell : problem.cells) {
        const double mass = cumulative[cell.last + 1] - cumulative[cell.first];
        const double first = cell.weight / mass;
        const double second = first / mass;
        slope[cell.last + 1] += first;
        slope[cell.first] -= first;
        curve[cell.last + 1] += second;
        curve[cell.first] += second;
    }
    std::vector<double> target(inner), weights(inner);
    for (std::size_t j = 0; j < inner; ++j) {
        weights[j] = curve[j + 1];
        target[j] = cumulative[j + 1] + slope[j + 1] / curve[j + 1];
    }
    std::vector<double> proposal = isotonic(target, weights);
    double rise = 0;
    for (std::size_t j = 0; j < inner; ++j) {
        proposal[j] = std::clamp(proposal[j], 0.0, 1.0);
        rise += slope[j + 1] * (proposal[j] - cumulative[j + 1]);
    }
    if (!(rise > 0))
        return;
    const double before = logLikelihood(problem, cumulative);
    std::vector<double> moved = cumulative;
    double share = 1;
    for (int half = 0; half < 30; ++half, share *= 0.5) {
        for (std::size_t j = 0; j < inner; ++j)
            moved[j + 1] = cumulative[j + 1] + share * (proposal[j] - cumulative[j + 1]);
        if (logLikelihood(problem, moved) >= before + 0.1 * share * rise) {
            cumulative = std::move(moved);
            return;
        }
    }
}

// Where every row is known to one innermost interval, or open to the right, the estimate is the product
// limit; empty where some row covers several of them and ends. Source: Turnbull 1976, section 3.
std::vector<double> productLimit(const InnermostProblem& problem) {
    const std::size_t m = problem.intervals.size();
    std::vector<double> here(m, 0.0), open(m, 0.0);
    for (const Cell& cell : problem.cells) {
        if (cell.first != cell.last && cell.last != m - 1)
            return {};
        (cell.first == cell.last ? here : open)[cell.first] += cell.weight;
    }
    // A row that is open from an interval on left the watch before it.
    std::vector<double> beyond(m + 1, 0.0), cumulative(m + 1, 0.0);
    for (std::size_t j = m; j-- > 0;)
        beyond[j] = beyond[j + 1] + here[j] + open[j];
    double survival = 1;
    for (std::size_t j = 0; j + 1 < m; ++j) {
        survival *= beyond[j + 1] / (beyond[j + 1] + here[j]);
        cumulative[j + 1] = 1 - survival;
    }
    cumulative[m] = 1;
    return cumulative;
}

Result<Turnbull> estimate(InnermostProblem problem, const TurnbullOptions& options) {
    const std::size_t m = problem.intervals.size();
    std::vector<double> cumulative = productLimit(problem);
    const bool closed = !cumulative.empty();
    if (!closed)
        cumulative.resize(m + 1);
    for (std::size_t j = 0; !closed && j <= m; ++j)
        cumulative[j] = static_cast<double>(j) / static_cast<double>(m);
    Turnbull result;
    std::vector<double> slope = gradient(problem, cumulative);
    result.gap = gapOf(slope, problem.weight);
    while (result.gap > options.gap && result.steps < options.mostSteps) {
        expectationStep(cumulative, slope, problem.weight);
        ++result.steps;
        if (options.accelerated) {
            minorantStep(problem, cumulative);
            ++result.steps;
        }
        slope = gradient(problem, cumulative);
        result.gap = gapOf(slope, problem.weight);
    }
    std::vector<double> masses = differences(cumulative);
    if (options.polished && m > 1 && !closed) {
        polishMasses(problem, masses);
        cumulative = cumulated(masses);
        result.gap = gapOf(gradient(problem, cumulative), problem.weight);
    }
    if (!(result.gap <= options.gap))
        return fail(ErrorCode::NoConvergence, "the estimate from intervals did not settle within its steps");
    result.logLikelihood = logLikelihood(problem, cumulative);
    result.intervals = std::move(problem.intervals);
    for (std::size_t j = 0; j < m; ++j)
        result.intervals[j].mass = masses[j];
    return result;
}

// Rows but those so light that their mass would drown in the rounding of the others' sums; empty when all
// rows are felt, or when the light ones together weigh something.
std::vector<Observation> feltRows(std::span<const Observation> rows, double lives) {
    constexpr double kFelt = 1e-9;     // share of all weights
    constexpr double kTogether = 1e-8; // a tenth of the smallest mass that is told
    std::vector<Observation> felt;
    double light = 0;
    for (const Observation& row : rows) {
        if (row.weight >= kFelt * lives)
            felt.push_back(row);
        else
            light += row.weight;
    }
    if (light == 0 || light > kTogether * lives)
        felt.clear();
    return felt;
}

// 53 random bits in [0, 1): the same on every standard library.
double uniform(std::mt19937_64& random) {
    return static_cast<double>(random() >> 11) * 0x1.0p-53;
}

// How often each row is taken in so many draws, one by one; `sums` are the cumulated weights.
std::vector<double> drawn(double draws, const std::vector<double>& sums, std::mt19937_64& random) {
    std::vector<double> taken(sums.size(), 0.0);
    for (double k = 0; k < draws; ++k) {
        const double at = uniform(random) * sums.back();
        const auto row = std::upper_bound(sums.begin(), sums.end() - 1, at) - sums.begin();
        taken[static_cast<std::size_t>(row)] += 1;
    }
    return taken;
}

// Draws beyond which rows share them out by binomial quantiles instead, each from what the ones before left.
constexpr double kMostDraws = 1e6;

// Quantile of a binomial count; the normal one where the count is so wide that they agree to its rounding.
double binomialQuantile(double n, double share, double p) {
    const double variance = n * share * (1 - share);
    if (variance > 1e6)
        return std::clamp(std::round(n * share + std::sqrt(variance) * normalQuantile(p)), 0.0, n);
    return std::min(n, std::round(quantile(boost::math::binomial_distribution<double>(n, share), p)));
}

std::vector<double> shared(double draws, std::span<const Observation> rows, std::mt19937_64& random) {
    std::vector<double> taken(rows.size(), 0.0), after(rows.size() + 1, 0.0);
    for (std::size_t i = rows.size(); i-- > 0;)
        after[i] = after[i + 1] + rows[i].weight;
    for (std::size_t i = 0; i < rows.size() && draws > 0; ++i) {
        const double at = std::clamp(uniform(random), 0x1.0p-53, 1 - 0x1.0p-53);
        const double share = rows[i].weight / after[i];
        taken[i] = share >= 1 ? draws : binomialQuantile(draws, share, at);
        draws -= taken[i];
    }
    return taken;
}

// Samples of rows that are exact or open to the right, read at some mileages without sorting each sample
// anew.
class PlainSamples {
public:
    PlainSamples(std::span<const Observation> rows, std::span<const double> miles)
        : rows_(rows), miles_(miles), order_(rows.size()), ascending_(miles.size()) {
        std::iota(order_.begin(), order_.end(), std::size_t{0});
        std::iota(ascending_.begin(), ascending_.end(), std::size_t{0});
        std::ranges::sort(order_, {}, [&](std::size_t i) { return rows_[i].lower; });
        std::ranges::sort(ascending_, {}, [&](std::size_t k) { return miles_[k]; });
    }

    static bool areEnough(std::span<const Observation> rows) {
        return std::ranges::all_of(
            rows, [](const Observation& row) { return row.isExact() || std::isinf(row.upper); });
    }

    /// Bounds of S at each mileage in the sample that takes row i so many times.
    std::vector<SurvivalBounds> boundsOf(const std::vector<double>& taken) const {
        std::vector<SurvivalBounds> bounds(miles_.size());
        double watched = std::accumulate(taken.begin(), taken.end(), 0.0), survival = 1;
        std::size_t i = 0;
        for (const std::size_t k : ascending_) {
            while (i < order_.size() && rows_[order_[i]].lower <= miles_[k]) {
                const double here = rows_[order_[i]].lower;
                double comebacks = 0, gone = 0;
                for (; i < order_.size() && rows_[order_[i]].lower == here; ++i)
                    (rows_[order_[i]].isExact() ? comebacks : gone) += taken[order_[i]];
                if (comebacks > 0)
                    survival *= (watched - comebacks) / watched;
                watched -= comebacks + gone;
            }
            // Past the last that was watched nothing is known of what is left.
            bounds[k] = {watched > 0 || endsAt(i, miles_[k], taken) ? survival : 0, survival};
        }
        return bounds;
    }

private:
    /// The last that was watched stands at the mileage itself: order_[i] is the first row beyond it.
    bool endsAt(std::size_t i, double miles, const std::vector<double>& taken) const {
        for (; i > 0 && rows_[order_[i - 1]].lower == miles; --i)
            if (taken[order_[i - 1]] > 0)
                return true;
        return false;
    }

    std::span<const Observation> rows_;
    std::span<const double> miles_;
    std::vector<std::size_t> order_, ascending_;
};

} // namespace

Result<Turnbull> turnbull(std::span<const Observation> rows, const TurnbullOptions& options) {
    if (rows.empty())
        return fail(ErrorCode::InvalidInput, "no lives");
    double lives = 0, comebacks = 0, longest = 0;
    for (const Observation& row : rows) {
        if (row.entry > 0)
            return fail(ErrorCode::NotEstimable,
                        "a life that entered late (entry above 0) beside comebacks known only to an "
                        "interval: the curve from intervals need not exist then");
        lives += row.weight;
        if (row.cameBack())
            comebacks += row.weight;
        longest = std::max(longest, row.lower);
    }
    const std::vector<Observation> felt = feltRows(rows, lives);
    Result<Turnbull> result = estimate(innermostProblem(felt.empty() ? rows : felt), options);
    if (!result)
        return result;
    result->lives = lives;
    result->comebacks = comebacks;
    result->longestWatched = longest;
    return result;
}

SurvivalBounds boundsAt(const Turnbull& estimate, double miles) {
    double failed = 0, perhaps = 0;
    for (const MassInterval& interval : estimate.intervals) {
        if (interval.to <= miles)
            failed += interval.mass;
        else if (interval.from < miles)
            perhaps += interval.mass;
    }
    return {std::max(0.0, 1 - failed - perhaps), std::max(0.0, 1 - failed)};
}

std::optional<MassInterval> quantileInterval(const Turnbull& estimate, double p) {
    double failed = 0;
    for (const MassInterval& interval : estimate.intervals) {
        failed += interval.mass;
        if (interval.mass > 0 && failed >= p - 1.5e-8)
            return std::isfinite(interval.to) ? std::optional(interval) : std::nullopt;
    }
    return std::nullopt;
}

Result<std::vector<Limits>> bootstrapLimits(std::span<const Observation> rows, std::span<const double> miles,
                                            double level, int replicates, std::uint64_t seed) {
    const Result<Turnbull> whole = turnbull(rows);
    if (!whole)
        return failureOf(whole);
    std::vector<double> sums;
    for (const Observation& row : rows)
        sums.push_back((sums.empty() ? 0.0 : sums.back()) + row.weight);
    const double draws = std::max(1.0, std::round(whole->lives));
    TurnbullOptions options;
    options.polished = false;
    std::mt19937_64 random(seed);
    std::vector<std::vector<double>> least(miles.size()), most(miles.size());
    std::vector<Observation> sample;
    std::optional<PlainSamples> plain;
    if (PlainSamples::areEnough(rows))
        plain.emplace(rows, miles);
    for (int r = 0; r < replicates; ++r) {
        const std::vector<double> taken =
            draws > kMostDraws ? shared(draws, rows, random) : drawn(draws, sums, random);
        if (plain) {
            const std::vector<SurvivalBounds> at = plain->boundsOf(taken);
            for (std::size_t k = 0; k < miles.size(); ++k) {
                least[k].push_back(at[k].least);
                most[k].push_back(at[k].most);
            }
            continue;
        }
        sample.clear();
        for (std::size_t i = 0; i < rows.size(); ++i) {
            if (taken[i] == 0)
                continue;
            sample.push_back(rows[i]);
            sample.back().weight = taken[i];
        }
        const Result<Turnbull> one = turnbull(sample, options);
        if (!one)
            return failureOf(one);
        for (std::size_t k = 0; k < miles.size(); ++k) {
            const SurvivalBounds at = boundsAt(*one, miles[k]);
            least[k].push_back(at.least);
            most[k].push_back(at.most);
        }
    }
    const double tail = 0.5 * (1 - level);
    const auto percentile = [](std::vector<double>& values, double p) {
        std::sort(values.begin(), values.end());
        const double at = p * static_cast<double>(values.size() - 1);
        const auto below = static_cast<std::size_t>(at);
        const std::size_t above = std::min(below + 1, values.size() - 1);
        return values[below] + (at - static_cast<double>(below)) * (values[above] - values[below]);
    };
    std::vector<Limits> limits;
    for (std::size_t k = 0; k < miles.size(); ++k) {
        const SurvivalBounds at = boundsAt(*whole, miles[k]);
        limits.push_back({std::min(at.least, percentile(least[k], tail)),
                          std::max(at.most, percentile(most[k], 1 - tail))});
    }
    return limits;
}

} // namespace milehold::core
