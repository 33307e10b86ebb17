// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/cox_rows.h"

#include <limits>
#include <numeric>

namespace milehold::core {

namespace {

Result<void> check(const Lives& lives, const FactorTable& factors) {
    if (lives.size() == 0)
        return fail(ErrorCode::InvalidInput, "no lives");
    if (factors.terms() == 0)
        return fail(ErrorCode::InvalidInput, "no factor is named");
    if (factors.values.size() != lives.size() * factors.terms())
        return fail(ErrorCode::InvalidInput, "as many rows of factors as lives are needed");
    for (const double w : lives.weight)
        if (w != std::floor(w))
            return fail(ErrorCode::InvalidInput, "a regression takes whole weights only (rows repeated)");
    for (std::size_t i = 0; i < lives.size(); ++i)
        if (lives.cameBack(i))
            return {};
    return fail(ErrorCode::NotEstimable, "no comeback: no factor can be told to matter");
}

struct Key {
    std::uint32_t stratum;
    std::uint32_t row;
    double miles;
};

std::vector<Key> sortedKeys(const Lives& lives, bool stratified) {
    std::vector<Key> keys(lives.size());
    for (std::size_t i = 0; i < keys.size(); ++i)
        keys[i] = {stratified ? lives.stratumOf(i) : 0U, static_cast<std::uint32_t>(i), lives.miles[i]};
    std::sort(keys.begin(), keys.end(), [](const Key& a, const Key& b) {
        if (a.stratum != b.stratum)
            return a.stratum < b.stratum;
        if (a.miles != b.miles)
            return a.miles > b.miles;
        return a.row < b.row;
    });
    return keys;
}

// Centre and spread of a column, and its refusal where it has none.
Result<void> standardise(CoxRows& rows, const FactorTable& factors, const Lives& lives) {
    const std::size_t p = rows.p;
    rows.center.assign(p, 0);
    rows.spread.assign(p, 0);
    std::vector<double> low(p, std::numeric_limits<double>::infinity()),
        high(p, -std::numeric_limits<double>::infinity());
    for (std::size_t i = 0; i < rows.n; ++i) {
        const double w = lives.weightOf(i) / rows.lives;
        for (std::size_t k = 0; k < p; ++k) {
            const double value = factors.values[i * p + k];
            rows.center[k] += w * value;
            low[k] = std::min(low[k], value);
            high[k] = std::max(high[k], value);
        }
    }
    for (std::size_t k = 0; k < p; ++k)
        if (!(high[k] > low[k]))
            return fail(ErrorCode::NotEstimable,
                        factors.names[k] + " is the same for all lives: it has no coefficient");
    for (std::size_t i = 0; i < rows.n; ++i) {
        const double w = lives.weightOf(i) / rows.lives;
        for (std::size_t k = 0; k < p; ++k) {
            // Divided by the range first: squares of very large or small numbers would leave the doubles.
            const double unit = (factors.values[i * p + k] - rows.center[k]) / (high[k] - low[k]);
            rows.spread[k] += w * unit * unit;
        }
    }
    for (std::size_t k = 0; k < p; ++k) {
        rows.spread[k] = std::sqrt(rows.spread[k]) * (high[k] - low[k]);
        rows.range.push_back((high[k] - low[k]) / rows.spread[k]);
    }
    return {};
}

} // namespace

Result<CoxRows> coxRows(const Lives& lives, const FactorTable& factors, bool stratified) {
    if (const auto checked = check(lives, factors); !checked)
        return failureOf(checked);
    CoxRows rows;
    rows.n = lives.size();
    rows.p = factors.terms();
    for (std::size_t i = 0; i < rows.n; ++i) {
        rows.lives += lives.weightOf(i);
        if (lives.cameBack(i))
            rows.comebacks += lives.weightOf(i);
    }
    if (const auto done = standardise(rows, factors, lives); !done)
        return failureOf(done);

    const std::vector<Key> keys = sortedKeys(lives, stratified);
    rows.x.resize(rows.n * rows.p);
    for (std::size_t i = 0; i < rows.n; ++i) {
        const std::size_t from = keys[i].row;
        if (i == 0 || keys[i].stratum != keys[i - 1].stratum) {
            rows.begins.push_back(i);
            rows.stratum.push_back(keys[i].stratum);
        }
        rows.source.push_back(keys[i].row);
        rows.miles.push_back(keys[i].miles);
        rows.entry.push_back(lives.entryOf(from));
        rows.weight.push_back(lives.weightOf(from));
        rows.cameBack.push_back(lives.cameBack(from) ? 1 : 0);
        for (std::size_t k = 0; k < rows.p; ++k)
            rows.x[i * rows.p + k] = (factors.values[from * rows.p + k] - rows.center[k]) / rows.spread[k];
    }
    rows.begins.push_back(rows.n);
    for (std::size_t part = 0; part < rows.parts(); ++part) {
        rows.entryBegins.push_back(rows.byEntry.size());
        for (std::size_t i = rows.begins[part]; i < rows.begins[part + 1]; ++i)
            if (rows.entry[i] > 0)
                rows.byEntry.push_back(static_cast<std::uint32_t>(i));
        std::sort(rows.byEntry.begin() + static_cast<std::ptrdiff_t>(rows.entryBegins[part]),
                  rows.byEntry.end(),
                  [&](std::uint32_t a, std::uint32_t b) { return rows.entry[a] > rows.entry[b]; });
    }
    rows.entryBegins.push_back(rows.byEntry.size());
    return rows;
}

TieSums tieSums(const RiskSet& set, TiesRule ties) {
    if (ties == TiesRule::Breslow || set.comebacks <= 1) {
        const double d = set.comebacks;
        return {d * std::log(set.s0), d / set.s0, 0, d / (set.s0 * set.s0), 0, 0};
    }
    TieSums sums;
    const double others = std::max(0.0, set.s0 - set.d0);
    for (double m = 0; m < set.comebacks; ++m) {
        const double f = m / set.comebacks;
        const double c = others + (1 - f) * set.d0;
        const double a = 1 / c;
        sums.logs += std::log(c);
        sums.a0 += a;
        sums.a1 += f * a;
        sums.b0 += a * a;
        sums.b1 += f * a * a;
        sums.b2 += f * f * a * a;
    }
    return sums;
}

void addScore(Eigen::VectorXd& into, double factor, const RiskSet& set, const TieSums& sums) {
    for (Eigen::Index k = 0; k < into.size(); ++k)
        into[k] += factor * (set.sumX[k] - (sums.a0 * set.s1[k] - sums.a1 * set.d1[k]));
}

void addInformation(Eigen::MatrixXd& into, double factor, const RiskSet& set, const TieSums& sums) {
    const Eigen::Index p = into.rows();
    for (Eigen::Index a = 0; a < p; ++a) {
        for (Eigen::Index b = a; b < p; ++b) {
            double value = sums.a0 * set.s2(b, a) - sums.b0 * set.s1[a] * set.s1[b];
            if (sums.b1 != 0)
                value += -sums.a1 * set.d2(b, a) + sums.b1 * (set.s1[a] * set.d1[b] + set.d1[a] * set.s1[b]) -
                         sums.b2 * set.d1[a] * set.d1[b];
            into(b, a) += factor * value;
        }
    }
}

Predictor linearPredictor(const CoxRows& rows, const Eigen::VectorXd& beta) {
    Predictor out;
    out.eta.resize(rows.n);
    out.shift = -std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < rows.n; ++i) {
        double eta = 0;
        for (std::size_t k = 0; k < rows.p; ++k)
            eta += rows.x[i * rows.p + k] * beta[static_cast<Eigen::Index>(k)];
        out.eta[i] = eta;
        out.shift = std::max(out.shift, eta);
    }
    for (double& eta : out.eta)
        eta -= out.shift;
    return out;
}

} // namespace milehold::core
