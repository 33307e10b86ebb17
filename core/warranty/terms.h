// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/survival/life_fit.h"
#include "core/survival/observation.h"

#include <cstdint>
#include <span>
#include <vector>

namespace milehold::core {

/// A warranty that ends at the first of two limits.
struct WarrantyTerms {
    double months = 24;   ///< > 0
    double miles = 24000; ///< > 0, the unit of the table
};

/// Miles under the terms for a driver of so many miles a year: min(miles, months / 12 * yearly).
double coveredMiles(const WarrantyTerms& terms, double yearlyMiles);

/// Share of jobs whose first comeback falls within the terms: the mean over the drivers of F(covered miles).
/// Input:  yearly miles of the shop's drivers, each >= 0, at least one.
double warrantyShare(const LifeFit& fit, const WarrantyTerms& terms, std::span<const double> yearlyMiles);

struct Estimate {
    double value = 0, lower = 0, upper = 0;
};

struct WarrantyCost {
    Estimate share;     ///< of jobs with a comeback within the terms
    Estimate comebacks; ///< expected among `jobs`
    Estimate money;     ///< minor units of the currency
};

struct WarrantyOptions {
    LifeModel model = LifeModel::Weibull;
    double jobs = 100;
    double costEach = 0; ///< mean cost of a comeback, minor units
    double level = 0.95;
    int replicates = 1000;
    std::uint64_t seed = 1;
};

/// Share, number and cost within the terms, first comebacks only (one that comes back again is the shop's
/// next job). The limits are percentiles over lives and drivers weighted at random: weights of mean 1,
/// exponential, so that every replicate keeps a comeback and has a fit where the data have one; they count
/// the spread of the estimate, not of the year to come.
///
/// Repairs that never held, a comeback at exactly 0, are a share of their own beside the life distribution of
/// the rest: taken into it they would bend its shape to below 1 and with it every share further on.
///
/// Errors: those of fitLife for the lives that held; InvalidInput for terms, jobs or drivers out of range.
/// Source: Blischke & Murthy 1994, Warranty Cost Analysis, ch. 2 and 8; Lawless, Hu & Cao 1995, Lifetime Data
/// Analysis 1:227;
///         Xu, Gotwalt, Hong, King & Meeker 2020, Am Stat 74:345 (random weights).
Result<WarrantyCost> warrantyCost(std::span<const Observation> lives, std::span<const double> yearlyMiles,
                                  const WarrantyTerms& terms, const WarrantyOptions& options = {});

} // namespace milehold::core
