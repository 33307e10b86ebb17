// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

namespace milehold::core {

/// ln of the upper tail of the standard normal distribution, without underflow for any finite z.
double logNormalTail(double z);

/// Density over upper tail of the standard normal distribution (its hazard), accurate for any finite z.
/// For z > 8 by the continued fraction of Laplace; Abramowitz & Stegun 26.2.14.
double normalHazard(double z);

/// Upper tail of the standard normal distribution.
double normalTail(double z);

/// z with P(Z <= z) = p; p in (0, 1).
double normalQuantile(double p);

/// The normal deviate of a two-sided level in (0, 1): 1.96 for 0.95.
double twoSidedDeviate(double level);

/// P(|Z| > |z|).
double twoSidedP(double z);

/// P(X > x) of chi-square with df degrees of freedom; df > 0, x >= 0.
double chiSquareTail(double x, double df);

/// x with P(X <= x) = p of chi-square with df degrees of freedom.
double chiSquareQuantile(double p, double df);

} // namespace milehold::core
