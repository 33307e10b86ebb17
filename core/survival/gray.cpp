// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/compare_sums.h"
#include "core/survival/ends.h"
#include "core/survival/numeric.h"

#include <Eigen/Dense>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

namespace milehold::core {

namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

// One group along the miles: who is watched, and the estimates just before.
struct GroupState {
    const Counts* counts = nullptr;
    std::size_t at = 0;
    double watched = 0;
    double free = 1;      // of every end
    double incidence = 0; // of the end that is tested
    double own = 0;       // ends of that kind at this mileage
    double other = 0;     // ends of other kinds at this mileage
    double freeAfter = 1;
};

double othersAt(const Counts& counts, EndCode end, std::size_t i) {
    double sum = end == kCameBack ? 0 : counts.comebacks[i];
    for (std::size_t code = kFirstOtherEnd; code < counts.leftBy.size(); ++code)
        if (code != end)
            sum += counts.leftBy[code][i];
    return sum;
}

double ownAt(const Counts& counts, EndCode end, std::size_t i) {
    return end == kCameBack ? counts.comebacks[i] : end < counts.leftBy.size() ? counts.leftBy[end][i] : 0;
}

// The statistic and its variance as they grow. Names follow Gray's paper where it has some: R_g = n_g /
// S_g(t-).
class Accumulator {
public:
    explicit Accumulator(std::size_t groups)
        : size_(static_cast<Index>(groups)), score_(VectorXd::Zero(size_)),
          drift_(MatrixXd::Zero(size_, size_)), variance_(MatrixXd::Zero(size_, size_)),
          crossed_(MatrixXd::Zero(size_, size_)), squared_(VectorXd::Zero(size_)) {}

    void add(const std::vector<GroupState>& groups) {
        double own = 0;
        VectorXd weight = VectorXd::Zero(size_);
        VectorXd reached = VectorXd::Zero(size_);
        for (Index g = 0; g < size_; ++g) {
            const GroupState& group = groups[static_cast<std::size_t>(g)];
            own += group.own;
            if (!(group.watched > 0))
                continue;
            weight[g] = group.watched / group.free;
            reached[g] = weight[g] * (1 - group.incidence);
        }
        const double total = weight.sum();
        const double before = pooled_;
        pooled_ += own / total;
        MatrixXd shape = -weight * weight.transpose() / total;
        shape.diagonal() += weight;
        if (own > 0) {
            drift_ += shape * (own / (total * (1 - before)));
            ends_ += own;
            for (Index g = 0; g < size_; ++g)
                score_[g] += groups[static_cast<std::size_t>(g)].own - own * reached[g] / reached.sum();
        }
        for (Index g = 0; g < size_; ++g) {
            const GroupState& group = groups[static_cast<std::size_t>(g)];
            if (!(group.watched > 0))
                continue;
            if (own > 0)
                addOwn(g, group, shape.col(g), own, total);
            if (group.other > 0 && group.freeAfter > 0)
                addOther(g, group);
        }
    }

    Result<ChiSquare> result() const {
        compare_sums::Sums sums(static_cast<std::size_t>(size_));
        sums.observed = score_;
        sums.variance = variance_ + drift_ * squared_.asDiagonal() * drift_.transpose() +
                        drift_ * crossed_.transpose() + crossed_ * drift_.transpose();
        const Index kept = size_ - 1;
        const VectorXd deviation = sums.variance.diagonal().head(kept).cwiseMax(0).cwiseSqrt();
        // Where only one group was left to be watched at every such end, rounding alone is above 0.
        if (!(deviation.minCoeff() > std::sqrt(compare_sums::kSingular * ends_)))
            return nothingVaries();
        const MatrixXd correlation = deviation.cwiseInverse().asDiagonal() *
                                     sums.variance.topLeftCorner(kept, kept) *
                                     deviation.cwiseInverse().asDiagonal();
        const VectorXd u = score_.head(kept).cwiseQuotient(deviation);
        const Eigen::LDLT<MatrixXd> factor(correlation);
        if (factor.info() != Eigen::Success || !(factor.vectorD().minCoeff() > compare_sums::kSingular))
            return nothingVaries();
        const double value = u.dot(factor.solve(u));
        const auto df = static_cast<double>(kept);
        return ChiSquare{value, df, chiSquareTail(value, df)};
    }

private:
    static tl::unexpected<Error> nothingVaries() {
        return fail(ErrorCode::NotEstimable, "nothing can vary between the groups");
    }

    void addOwn(Index g, const GroupState& group, const VectorXd& column, double own, double total) {
        const double ratio = group.freeAfter > 0 ? 1 - (1 - pooled_) / group.freeAfter : 1;
        const double ties = own > 1 ? 1 - (own - 1) / (total * group.free - 1) : 1;
        const double size = ties * group.free * own / (total * group.watched);
        spread(g, column - ratio * drift_.col(g), ratio, size);
    }

    void addOther(Index g, const GroupState& group) {
        const double ratio = (1 - pooled_) / group.freeAfter;
        const double ties = group.other > 1 ? 1 - (group.other - 1) / (group.watched - 1) : 1;
        const double size = ties * group.free * group.free * group.other / (group.watched * group.watched);
        spread(g, -ratio * drift_.col(g), ratio, size);
    }

    void spread(Index g, const VectorXd& u, double ratio, double size) {
        variance_.noalias() += size * u * u.transpose();
        crossed_.col(g) += size * ratio * u;
        squared_[g] += size * ratio * ratio;
    }

    Index size_;
    double pooled_ = 0; // incidence of all groups together
    double ends_ = 0;   // of the kind that is tested
    VectorXd score_;
    MatrixXd drift_;
    MatrixXd variance_;
    MatrixXd crossed_;
    VectorXd squared_;
};

Result<void> check(std::span<const Counts> groups) {
    if (groups.size() < 2)
        return fail(ErrorCode::NotEstimable, "there are no two groups to compare");
    if (groups.size() > kMostGrayGroups)
        return fail(ErrorCode::NotEstimable,
                    "more than " + std::to_string(kMostGrayGroups) + " groups: the test compares a few");
    for (const Counts& counts : groups) {
        if (counts.size() > 0 && counts.leftBy.empty())
            return fail(ErrorCode::InvalidInput, "the counts do not tell the ends apart");
        if (!counts.entryMiles.empty())
            return fail(ErrorCode::NotEstimable, "the test knows no delayed entries");
        if (!counts.isWhole())
            return fail(ErrorCode::NotEstimable, "the test needs whole weights");
    }
    return {};
}

} // namespace

Result<ChiSquare> grayTest(std::span<const Counts> groups, EndCode end) {
    if (auto checked = check(groups); !checked)
        return failureOf(checked);
    std::vector<GroupState> states(groups.size());
    for (std::size_t g = 0; g < groups.size(); ++g) {
        states[g].counts = &groups[g];
        states[g].watched = groups[g].lives();
    }
    const Counts all = merged(groups);
    Accumulator sums(groups.size());
    for (const double miles : all.miles) {
        bool ended = false;
        for (GroupState& state : states) {
            const bool here = state.at < state.counts->size() && state.counts->miles[state.at] == miles;
            state.own = here ? ownAt(*state.counts, end, state.at) : 0;
            state.other = here ? othersAt(*state.counts, end, state.at) : 0;
            const double gone = state.own + state.other;
            state.freeAfter = gone > 0 ? state.free * (state.watched - gone) / state.watched : state.free;
            ended = ended || gone > 0;
        }
        if (ended)
            sums.add(states);
        for (GroupState& state : states) {
            if (state.own > 0)
                state.incidence += state.free * state.own / state.watched;
            state.free = state.freeAfter;
            if (state.at < state.counts->size() && state.counts->miles[state.at] == miles) {
                state.watched -= state.counts->comebacks[state.at] + state.counts->left[state.at];
                ++state.at;
            }
        }
    }
    return sums.result();
}

} // namespace milehold::core
