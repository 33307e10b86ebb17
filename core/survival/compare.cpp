// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/compare.h"

#include "core/survival/compare_sums.h"
#include "core/survival/numeric.h"
#include "core/survival/watched_cursor.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace milehold::core {

using compare_sums::Sums;

namespace {

constexpr Eigen::Index kBlock = 128; // mileages taken together, so that the variance grows by matrix products

// One block of mileages with a comeback: what each has of weight, and each group's share of those watched.
struct Block {
    explicit Block(Eigen::Index groups) : share(groups, kBlock), comebacks(kBlock), root(kBlock) {}

    void addTo(Sums& sums) const {
        const auto shares = share.leftCols(used);
        sums.expected.noalias() += shares * comebacks.head(used);
        const Eigen::MatrixXd scaled = shares * root.head(used).asDiagonal();
        sums.variance.noalias() -= scaled * scaled.transpose();
        sums.variance.diagonal().noalias() += scaled * root.head(used);
    }

    Eigen::MatrixXd share;
    Eigen::VectorXd comebacks; // w d
    Eigen::VectorXd root;      // w sqrt(d (n-d)/(n-1))
    Eigen::Index used = 0;
};

// What there is of each group at one mileage.
struct AtMileage {
    explicit AtMileage(std::size_t groups) : watched(groups), comebacks(groups) {}
    std::vector<double> watched, comebacks;
};

// Adds one stratum, group beside group along their mileages; returns its comebacks.
double addStratum(std::vector<WatchedCursor>& groups, double rho, Sums& sums) {
    constexpr double kNone = std::numeric_limits<double>::infinity();
    Block block(static_cast<Eigen::Index>(groups.size()));
    AtMileage here(groups.size());
    double survival = 1; // just before
    double comebacks = 0;
    while (true) {
        double miles = kNone;
        for (const WatchedCursor& group : groups)
            miles = std::min(miles, group.next());
        if (miles == kNone)
            break;
        double n = 0;
        double d = 0;
        for (std::size_t g = 0; g < groups.size(); ++g) {
            n += here.watched[g] = groups[g].at(miles);
            d += here.comebacks[g] = groups[g].comebacks();
        }
        for (WatchedCursor& group : groups)
            if (group.next() == miles)
                group.pass();
        if (!(d > 0))
            continue;
        comebacks += d;
        n = std::max(n, d); // those who come back were there to do so, whatever rounding says
        const double w = rho == 0 ? 1 : std::pow(survival, rho);
        survival *= (n - d) / n;
        if (!(w > 0) || !std::isfinite(w))
            continue;
        block.comebacks[block.used] = w * d;
        block.root[block.used] = n > 1 ? w * std::sqrt(d * (n - d) / (n - 1)) : 0;
        for (std::size_t g = 0; g < groups.size(); ++g) {
            const auto row = static_cast<Eigen::Index>(g);
            block.share(row, block.used) = here.watched[g] / n;
            sums.observed[row] += w * here.comebacks[g];
        }
        if (++block.used == kBlock) {
            block.addTo(sums);
            block.used = 0;
        }
    }
    if (block.used > 0)
        block.addTo(sums);
    return comebacks;
}

std::optional<ChiSquare> trendOf(const Sums& sums, const std::vector<double>& scores) {
    const auto groups = static_cast<Eigen::Index>(scores.size());
    Eigen::VectorXd s = Eigen::Map<const Eigen::VectorXd>(scores.data(), groups);
    s.array() -= s.mean(); // changes nothing but the rounding
    const double size = s.cwiseAbs().maxCoeff();
    if (!(size > 0))
        return std::nullopt;
    s /= size;
    const double u = s.dot(sums.observed - sums.expected);
    const double v = s.dot(sums.variance * s);
    if (!(v > compare_sums::kSingular * sums.variance.diagonal().sum()))
        return std::nullopt;
    const double value = u * u / v;
    return ChiSquare{value, 1, chiSquareTail(value, 1)};
}

CompareEvidence evidenceOf(const std::vector<ComparedGroup>& groups, double comebacks) {
    const bool tiny =
        std::any_of(groups.begin(), groups.end(), [](const ComparedGroup& g) { return g.lives < 3; });
    if (comebacks < 5 || tiny)
        return CompareEvidence::TooLittle;
    return comebacks < kFewComebacks ? CompareEvidence::Permutation : CompareEvidence::Enough;
}

} // namespace

StratifiedCounts countsByStratum(const Lives& lives) {
    const std::size_t groups = lives.groupNames.size();
    const std::size_t strata = lives.stratum.empty() ? 1 : lives.stratumNames.size();
    if (strata == 1) {
        StratifiedCounts one;
        one.push_back(countsByGroup(lives));
        return one;
    }
    std::vector<std::uint32_t> part(lives.size());
    for (std::size_t i = 0; i < lives.size(); ++i)
        part[i] = static_cast<std::uint32_t>(lives.stratumOf(i) * groups + lives.groupOf(i));
    std::vector<Counts> flat = countsByPart(lives, part, strata * groups);
    StratifiedCounts result(strata);
    for (std::size_t s = 0; s < strata; ++s)
        for (std::size_t g = 0; g < groups; ++g)
            result[s].push_back(std::move(flat[s * groups + g]));
    return result;
}

Result<Comparison> compare(const StratifiedCounts& strata, const CompareOptions& options) {
    if (strata.empty() || strata.front().empty())
        return fail(ErrorCode::InvalidInput, "there are no groups to compare");
    const std::size_t groups = strata.front().size();
    if (!options.scores.empty() && options.scores.size() != groups)
        return fail(ErrorCode::InvalidInput, "the scores of the trend do not match the groups");
    if (!std::isfinite(options.rho))
        return fail(ErrorCode::InvalidInput, "rho is not a finite number");

    const auto size = static_cast<Eigen::Index>(groups);
    Sums sums(groups);
    Comparison result;
    result.groups.resize(groups);
    for (const auto& stratum : strata) {
        std::vector<WatchedCursor> cursors(stratum.begin(), stratum.end());
        for (std::size_t g = 0; g < groups; ++g)
            result.groups[g].lives += cursors[g].lives();
        result.comebacks += addStratum(cursors, options.rho, sums);
    }
    for (Eigen::Index g = 0; g < size; ++g) {
        result.groups[static_cast<std::size_t>(g)].observed = sums.observed[g];
        result.groups[static_cast<std::size_t>(g)].expected = sums.expected[g];
    }
    result.df = sums.df();
    result.chiSquare = sums.chiSquare();
    if (result.chiSquare && result.df > 0)
        result.p = chiSquareTail(*result.chiSquare, result.df);
    if (!options.scores.empty())
        result.trend = trendOf(sums, options.scores);
    result.evidence = evidenceOf(result.groups, result.comebacks);
    return result;
}

Result<Difference> survivalDifference(const CurvePoint& first, const CurvePoint& second) {
    if (!first.survival || !second.survival)
        return fail(ErrorCode::NotEstimable, "one of the groups is not watched as far");
    if (!first.lower || !first.upper || !second.lower || !second.upper)
        return fail(ErrorCode::NotEstimable, "one of the groups has no limits there");
    const double s1 = *first.survival;
    const double s2 = *second.survival;
    const double value = s1 - s2;
    return Difference{value, std::max(-1.0, value - std::hypot(s1 - *first.lower, *second.upper - s2)),
                      std::min(1.0, value + std::hypot(*first.upper - s1, s2 - *second.lower))};
}

Difference meanDifference(const RestrictedMean& first, const RestrictedMean& second, double level) {
    const double value = first.mean - second.mean;
    const double reach = twoSidedDeviate(level) * std::hypot(first.se, second.se);
    return {value, value - reach, value + reach};
}

} // namespace milehold::core
