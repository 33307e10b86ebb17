// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/survival/cox_rows.h"

namespace milehold::core {

/// Sandwich covariance D'D, D the sum over each vehicle's rows of weight * score residual * covariance. The
/// residuals fit the ties rule. In standardised columns throughout. Errors: NotEstimable for fewer than two
/// vehicles.   Cost: O(n (p + log n)). Source: Lin & Wei 1989, JASA 84:1074; Therneau & Grambsch 2000,
/// section 7.2 (Efron's rule).
Result<Eigen::MatrixXd> clusteredCovariance(const Lives& lives, const CoxRows& rows,
                                            const Eigen::VectorXd& beta, const Eigen::MatrixXd& covariance,
                                            TiesRule ties);

/// Score tests of x g(t), g(t) = 1 - S(t-) of all lives together, with the full information of the
/// coefficients and their products with g: one a term, then all together. Source: Grambsch & Therneau 1994,
/// Biometrika 81:515.
std::vector<ProportionalTest> proportionalTests(const Lives& lives, const CoxRows& rows,
                                                const Eigen::VectorXd& beta, TiesRule ties,
                                                const std::vector<std::string>& names);

} // namespace milehold::core
