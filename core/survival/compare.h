// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/survival/curve.h"

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

namespace milehold::core {

/// Counts of every group within every stratum: [stratum][group], in the order of the names of both.
using StratifiedCounts = std::vector<std::vector<Counts>>;
StratifiedCounts countsByStratum(const Lives& lives);

struct CompareOptions {
    double rho = 0;             ///< weight S(t-)^rho of a mileage; 0 is the log-rank test
    std::vector<double> scores; ///< one a group for the test of trend; empty: none
};

struct ComparedGroup {
    double lives = 0;
    double observed = 0; ///< weighted sum of its comebacks
    double expected = 0; ///< what it would be if all groups shared one hazard within each stratum
};

struct ChiSquare {
    double value = 0;
    double df = 0;
    double p = 1;
};

/// Below so many comebacks in all the chi-square distribution is not to be trusted.
inline constexpr double kFewComebacks = 10;

/// How a result may be put before people.
enum class CompareEvidence : std::uint8_t {
    Enough,      ///< the p of the chi-square
    Permutation, ///< fewer than 10 comebacks in all: the permutation p
    TooLittle,   ///< fewer than 5 comebacks, or a group of fewer than 3 lives: no p but words
};

struct Comparison {
    std::vector<ComparedGroup> groups;
    double comebacks = 0;            ///< in all
    double df = 0;                   ///< groups that could have come back, less one
    std::optional<double> chiSquare; ///< empty when all come back at once, so that nothing can vary
    std::optional<double> p;         ///< of the chi-square; empty when df is 0, too
    std::optional<ChiSquare> trend;  ///< empty when not asked for, or when it cannot vary
    CompareEvidence evidence = CompareEvidence::Enough;
};

/// Tests whether groups share one hazard: the weighted log-rank family, within strata.
///
/// At each mileage with a comeback, observed less expected comebacks of each group, weighted by S(t-)^rho of
/// all groups of the stratum together; the hypergeometric variance with the factor (n-d)/(n-1) for ties. A
/// group without anybody watched at a comeback has nothing expected and no share in df. Errors: InvalidInput
/// when there is no group, or the scores do not match the groups.   Cost: O(h g^2). Source: Mantel 1966,
/// Cancer Chemother Rep 50:163; Harrington & Fleming 1982, Biometrika 69:553; Tarone 1975,
///         Biometrika 62:679 (trend).
Result<Comparison> compare(const StratifiedCounts& strata, const CompareOptions& options = {});

struct PermutationOptions {
    std::size_t most =
        20000; ///< enumerated when there are no more arrangements than this, else drawn so many times
    std::uint64_t seed = 1;
};

/// The chance of a chi-square at least as large when lives are dealt to the groups at random within each
/// stratum, each keeping its miles and end. Meant for few comebacks, where the chi-square distribution is not
/// to be trusted. Errors: NotEstimable for weights that are not whole, more than 20,000 lives, or a
/// comparison without chi-square. Source: the permutation argument, R. A. Fisher 1935, The Design of
/// Experiments; drawn p as (r+1)/(R+1).
Result<double> permutationP(const Lives& lives, const CompareOptions& options,
                            const PermutationOptions& how = {});

struct Difference {
    double value = 0;
    double lower = 0;
    double upper = 0;
};

/// S of `first` less S of `second` at a mileage, with limits from those of each curve (its own option: exact
/// ones stay honest in small groups). Errors: NotEstimable beyond the last watched mileage of either, or
/// where either has no limits. Source: Newcombe 1998, Stat Med 17:873 (method 10); Zou & Donner 2008, Stat
/// Med 27:1693 (any pair of limits).
Result<Difference> survivalDifference(const CurvePoint& first, const CurvePoint& second);

/// Difference of two restricted means of independent groups, with normal limits.
/// Source: Royston & Parmar 2013, BMC Med Res Methodol 13:152.
Difference meanDifference(const RestrictedMean& first, const RestrictedMean& second, double level);

} // namespace milehold::core
