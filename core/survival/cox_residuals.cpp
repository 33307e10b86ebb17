// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/cox_residuals.h"

#include "core/survival/numeric.h"

#include <Eigen/Cholesky>

#include <set>

namespace milehold::core {

namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

/// What one comeback mileage does to the residuals of the rows watched then.
struct Increment {
    double miles = 0;
    double hazard = 0;    ///< sum of 1/c
    VectorXd moment;      ///< sum of (mean of x) / c
    double ownHazard = 0; ///< the same for rows that come back there, which take part in each term by 1 - f
    VectorXd ownMoment;
    VectorXd mean; ///< mean over the terms of the mean of x
};

Increment incrementOf(const RiskSet& set, TiesRule ties) {
    const TieSums sums = tieSums(set, ties);
    Increment out;
    out.miles = set.miles;
    out.hazard = sums.a0;
    out.moment = sums.b0 * set.s1 - sums.b1 * set.d1;
    out.ownHazard = sums.a0 - sums.a1;
    out.ownMoment = (sums.b0 - sums.b1) * set.s1 - (sums.b1 - sums.b2) * set.d1;
    out.mean = (sums.a0 * set.s1 - sums.a1 * set.d1) / set.comebacks;
    return out;
}

// Comeback mileages of each part, ascending, with hazard and moment summed up to and including each.
struct Track {
    std::vector<Increment> at;
    std::vector<double> hazard; ///< one more than `at`, from 0
    std::vector<VectorXd> moment;

    std::size_t through(double miles) const { // how many mileages are <= miles
        const auto past = std::upper_bound(at.begin(), at.end(), miles,
                                           [](double m, const Increment& step) { return m < step.miles; });
        return static_cast<std::size_t>(past - at.begin());
    }
};

std::vector<Track> tracks(const CoxRows& rows, const Predictor& predictor, TiesRule ties) {
    std::vector<Track> out(rows.parts());
    eachRiskSet(rows, predictor, false,
                [&](const RiskSet& set) { out[set.part].at.push_back(incrementOf(set, ties)); });
    for (Track& track : out) {
        std::reverse(track.at.begin(), track.at.end());
        track.hazard = {0};
        track.moment = {VectorXd::Zero(static_cast<Index>(rows.p))};
        for (const Increment& step : track.at) {
            track.hazard.push_back(track.hazard.back() + step.hazard);
            track.moment.push_back(track.moment.back() + step.moment);
        }
    }
    return out;
}

// 1 - S(t-) of all lives together at each of the mileages asked for (ascending).
std::vector<double> failedBefore(const Lives& lives, const std::vector<double>& asked) {
    struct Change {
        double miles, watched, comebacks;
    };
    std::vector<Change> changes;
    std::vector<std::pair<double, double>> entries;
    double total = 0;
    for (std::size_t i = 0; i < lives.size(); ++i) {
        const double w = lives.weightOf(i);
        changes.push_back({lives.miles[i], w, lives.cameBack(i) ? w : 0.0});
        if (lives.entryOf(i) > 0)
            entries.emplace_back(lives.entryOf(i), w);
        total += w;
    }
    std::sort(changes.begin(), changes.end(),
              [](const Change& a, const Change& b) { return a.miles < b.miles; });
    std::sort(entries.begin(), entries.end());
    double late = 0;
    for (const auto& entry : entries)
        late += entry.second;
    std::vector<double> failed;
    double survival = 1, gone = 0;
    std::size_t entered = 0, next = 0;
    for (std::size_t i = 0; i < changes.size();) {
        const double miles = changes[i].miles;
        for (; entered < entries.size() && entries[entered].first < miles; ++entered)
            late -= entries[entered].second;
        double comebacks = 0, leaving = 0;
        for (; i < changes.size() && changes[i].miles == miles; ++i) {
            comebacks += changes[i].comebacks;
            leaving += changes[i].watched;
        }
        if (next < asked.size() && asked[next] == miles) {
            failed.push_back(1 - survival);
            ++next;
        }
        if (comebacks > 0)
            survival *= 1 - comebacks / (total - gone - late);
        gone += leaving;
    }
    return failed;
}

} // namespace

Result<MatrixXd> clusteredCovariance(const Lives& lives, const CoxRows& rows, const VectorXd& beta,
                                     const MatrixXd& covariance, TiesRule ties) {
    const auto p = static_cast<Index>(rows.p);
    std::uint32_t clusters = 0;
    const auto cluster = [&](std::size_t row) {
        return lives.vehicle.empty() ? static_cast<std::uint32_t>(row) : lives.vehicle[row];
    };
    for (std::size_t i = 0; i < rows.n; ++i)
        clusters = std::max(clusters, cluster(i) + 1);
    const Predictor predictor = linearPredictor(rows, beta);
    const std::vector<Track> steps = tracks(rows, predictor, ties);
    MatrixXd influence = MatrixXd::Zero(p, static_cast<Index>(clusters));
    std::set<std::uint32_t> seen;
    for (std::size_t part = 0; part < rows.parts(); ++part) {
        const Track& track = steps[part];
        for (std::size_t i = rows.begins[part]; i < rows.begins[part + 1]; ++i) {
            const Eigen::Map<const VectorXd> x(rows.x.data() + i * rows.p, p);
            const double r = std::exp(predictor.eta[i]);
            const std::size_t end = track.through(rows.miles[i]);
            const std::size_t start = rows.entry[i] > 0 ? track.through(rows.entry[i]) : 0;
            const double hazard = track.hazard[end] - track.hazard[start];
            VectorXd residual = -r * (hazard * x - (track.moment[end] - track.moment[start]));
            if (rows.cameBack[i] != 0) {
                const Increment& own = track.at[end - 1];
                residual += x - own.mean;
                residual += r * ((own.hazard - own.ownHazard) * x - (own.moment - own.ownMoment));
            }
            influence.col(static_cast<Index>(cluster(rows.source[i]))) += rows.weight[i] * residual;
            if (seen.size() < 2)
                seen.insert(cluster(rows.source[i]));
        }
    }
    if (seen.size() < 2)
        return fail(ErrorCode::NotEstimable, "robust standard errors need rows of at least two vehicles");
    const MatrixXd scaled = covariance * influence;
    return MatrixXd(scaled * scaled.transpose());
}

std::vector<ProportionalTest> proportionalTests(const Lives& lives, const CoxRows& rows, const VectorXd& beta,
                                                TiesRule ties, const std::vector<std::string>& names) {
    const auto p = static_cast<Index>(rows.p);
    std::vector<double> miles;
    for (std::size_t i = 0; i < rows.n; ++i)
        if (rows.cameBack[i] != 0)
            miles.push_back(rows.miles[i]);
    std::sort(miles.begin(), miles.end());
    miles.erase(std::unique(miles.begin(), miles.end()), miles.end());
    std::vector<double> g = failedBefore(lives, miles);
    const auto indexOf = [&](double at) {
        return static_cast<std::size_t>(std::lower_bound(miles.begin(), miles.end(), at) - miles.begin());
    };
    // Centred over the comebacks: leaves the tests as they are and the matrix better conditioned.
    double mean = 0;
    for (std::size_t i = 0; i < rows.n; ++i)
        if (rows.cameBack[i] != 0)
            mean += rows.weight[i] * g[indexOf(rows.miles[i])] / rows.comebacks;
    for (double& value : g)
        value -= mean;

    VectorXd score = VectorXd::Zero(p);
    MatrixXd plain = MatrixXd::Zero(p, p), cross = plain, square = plain;
    eachRiskSet(rows, linearPredictor(rows, beta), true, [&](const RiskSet& set) {
        const TieSums sums = tieSums(set, ties);
        const double at = g[indexOf(set.miles)];
        addScore(score, at, set, sums);
        addInformation(plain, 1, set, sums);
        addInformation(cross, at, set, sums);
        addInformation(square, at * at, set, sums);
    });
    MatrixXd full(2 * p, 2 * p);
    full.topLeftCorner(p, p) = plain.selfadjointView<Eigen::Lower>();
    full.topRightCorner(p, p) = cross.selfadjointView<Eigen::Lower>();
    full.bottomLeftCorner(p, p) = cross.selfadjointView<Eigen::Lower>();
    full.bottomRightCorner(p, p) = square.selfadjointView<Eigen::Lower>();

    // Chi-square of the products chosen, given the coefficients: the score's part that they leave over.
    const auto test = [&](const std::string& name, const std::vector<Index>& chosen) {
        const auto k = static_cast<Index>(chosen.size());
        MatrixXd right(p, k), inner(k, k);
        VectorXd u(k);
        for (Index a = 0; a < k; ++a) {
            const Index from = chosen[static_cast<std::size_t>(a)];
            right.col(a) = full.topRightCorner(p, p).col(from);
            u[a] = score[from];
            for (Index b = 0; b < k; ++b)
                inner(a, b) = square(std::max(from, chosen[static_cast<std::size_t>(b)]),
                                     std::min(from, chosen[static_cast<std::size_t>(b)]));
        }
        const MatrixXd left = full.topLeftCorner(p, p).ldlt().solve(right);
        const MatrixXd rest = inner - right.transpose() * left;
        ProportionalTest out{name, static_cast<int>(k), std::nullopt, std::nullopt};
        const Eigen::LDLT<MatrixXd> solver(rest);
        for (Index a = 0; a < k; ++a)
            if (!(rest(a, a) > 1e-10 * inner(a, a)))
                return out;
        if (!(solver.vectorD().minCoeff() > 1e-12 * solver.vectorD().maxCoeff()))
            return out;
        const double chiSquare = std::max(0.0, u.dot(solver.solve(u)));
        if (!std::isfinite(chiSquare))
            return out;
        out.chiSquare = chiSquare;
        out.p = chiSquareTail(chiSquare, static_cast<double>(k));
        return out;
    };
    std::vector<ProportionalTest> tests;
    std::vector<Index> all;
    for (Index k = 0; k < p; ++k) {
        tests.push_back(test(names[static_cast<std::size_t>(k)], {k}));
        all.push_back(k);
    }
    tests.push_back(test("all", all));
    return tests;
}

} // namespace milehold::core
