// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/survival/counts.h"

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

namespace milehold::core {

/// How the limits of a survival curve are made. Exact is the beta product confidence procedure.
enum class LimitMethod : std::uint8_t { Exact, ExactMidP, LogLog, Log, Linear };

struct CurveOptions {
    double level = 0.95; ///< two-sided, in (0, 1)
    LimitMethod limits = LimitMethod::Exact;
};

/// One step of a curve; what does not exist is empty.
struct CurveStep {
    double miles = 0;
    double watched = 0;
    double comebacks = 0;
    double left = 0;
    double survival = 1;
    std::optional<double> se;
    std::optional<double> lower;
    std::optional<double> upper;
    double cumulativeHazard = 0;
    double cumulativeHazardSe = 0;
    friend bool operator==(const CurveStep&, const CurveStep&) = default;
};

/// The value of a curve at a mileage that was asked for; all but `miles` and `watched` empty beyond the last
/// watched.
struct CurvePoint {
    double miles = 0;
    double watched = 0;
    std::optional<double> survival;
    std::optional<double> se;
    std::optional<double> lower;
    std::optional<double> upper;
};

/// A mileage by which the share p has failed; empty where the curve (or its limit) never gets there.
struct CurveQuantile {
    double p = 0.5;
    std::optional<double> miles;
    std::optional<double> lower;
    std::optional<double> upper;
};

/// A product-limit curve as columns of h steps, one at every distinct mileage.
///
/// `se` exists for steps before `seEnd`; `lower` and `upper` exist for steps in [limitsBegin, limitsEnd).
/// The values of these columns outside their range mean nothing and are never shown.
struct Curve {
    CurveOptions options;
    double lives = 0;
    double comebacks = 0;
    double longestWatched = 0;
    double lowerBeforeFirst = 0; ///< limits over [0, first step), when they exist there
    double upperBeforeFirst = 1;
    bool limitsBeforeFirst = true;
    std::vector<double> miles, watched, comebacksAt, leftAt, survival, se, lower, upper, cumulativeHazard,
        cumulativeHazardSe;
    std::size_t seEnd = 0;
    std::size_t limitsBegin = 0;
    std::size_t limitsEnd = 0;

    std::size_t size() const { return miles.size(); }
    CurveStep step(std::size_t i) const;
};

/// Product-limit estimate with Greenwood's standard error, the chosen limits and the Nelson-Aalen hazard.
/// Errors: InvalidInput for no lives or a level outside (0, 1).   Cost: O(h).
/// Source: Kaplan & Meier 1958, JASA 53:457; Greenwood 1926; Nelson 1969; Aalen 1978; Kalbfleisch & Prentice
/// 2002
///         (log, log-log limits); Fay, Brittain & Proschan 2013, Biostatistics 14:723 (exact limits).
Result<Curve> survivalCurve(const Counts& counts, const CurveOptions& options = {});

/// S at a mileage, right-continuous: a comeback at t has happened.
CurvePoint valueAt(const Curve& curve, const Counts& counts, double miles);

/// Mileage by which the share p in (0, 1) has failed, with limits by inverting the drawn band.
/// Source: Brookmeyer & Crowley 1982, Biometrics 38:29.
CurveQuantile quantile(const Curve& curve, double p);

struct RestrictedMean {
    double tau = 0;
    double mean = 0;
    double se = 0;
};

/// Area under S from 0 to tau, its standard error after Irwin.
/// Errors: InvalidInput when tau is not in (0, longestWatched].
/// Source: Irwin 1949, J Hyg 47:188; Royston & Parmar 2013, BMC Med Res Methodol 13:152.
Result<RestrictedMean> restrictedMean(const Curve& curve, double tau);

struct ConditionalCurve {
    double given = 0;
    std::vector<CurvePoint> at;
};

/// S(t)/S(given) from a curve restarted at `given`, with that curve's own limits; t counts from the repair.
/// Errors: InvalidInput when `given` is negative or nothing is watched beyond it.
Result<ConditionalCurve> conditionalCurve(const Counts& counts, double given, std::span<const double> at,
                                          const CurveOptions& options = {});

} // namespace milehold::core
