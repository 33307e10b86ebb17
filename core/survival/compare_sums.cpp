// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/compare_sums.h"

#include <cmath>
#include <vector>

namespace milehold::core::compare_sums {

Sums::Sums(std::size_t groups) {
    const auto size = static_cast<Eigen::Index>(groups);
    observed = Eigen::VectorXd::Zero(size);
    expected = Eigen::VectorXd::Zero(size);
    variance = Eigen::MatrixXd::Zero(size, size);
}

void Sums::clear() {
    observed.setZero();
    expected.setZero();
    variance.setZero();
}

double Sums::df() const {
    const auto usable = (expected.array() > 0).count();
    return usable > 0 ? static_cast<double>(usable - 1) : 0;
}

std::optional<double> Sums::chiSquare() const {
    if (df() == 0)
        return 0;
    Eigen::Index largest = 0;
    expected.maxCoeff(&largest);
    std::vector<Eigen::Index> kept;
    for (Eigen::Index g = 0; g < expected.size(); ++g)
        if (expected[g] > 0 && g != largest)
            kept.push_back(g);

    const auto size = static_cast<Eigen::Index>(kept.size());
    Eigen::VectorXd deviation(size);
    for (Eigen::Index i = 0; i < size; ++i) {
        const Eigen::Index g = kept[static_cast<std::size_t>(i)];
        if (!(variance(g, g) > kSingular * expected[g]))
            return std::nullopt;
        deviation[i] = std::sqrt(variance(g, g));
    }
    Eigen::VectorXd u(size);
    Eigen::MatrixXd correlation(size, size);
    for (Eigen::Index i = 0; i < size; ++i) {
        const Eigen::Index g = kept[static_cast<std::size_t>(i)];
        u[i] = (observed[g] - expected[g]) / deviation[i];
        for (Eigen::Index j = 0; j < size; ++j)
            correlation(i, j) = variance(g, kept[static_cast<std::size_t>(j)]) / deviation[i] / deviation[j];
    }
    const Eigen::LDLT<Eigen::MatrixXd> factor(correlation);
    if (factor.info() != Eigen::Success || !(factor.vectorD().minCoeff() > kSingular))
        return std::nullopt;
    return u.dot(factor.solve(u));
}

} // namespace milehold::core::compare_sums
