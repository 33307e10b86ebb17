// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/compare.h"
#include "core/survival/compare_sums.h"

#include <algorithm>
#include <cmath>
#include <random>
#include <tuple>
#include <utility>

namespace milehold::core {

namespace {

constexpr double kMostLives = 20000;

using Range = std::pair<std::size_t, std::size_t>;

// Every life once for each of its weight, rows of one stratum together, so that dealing is shuffling labels
// in a range.
Result<Lives> unrolled(const Lives& lives) {
    double total = 0;
    for (std::size_t i = 0; i < lives.size(); ++i) {
        const double weight = lives.weightOf(i);
        if (weight != std::floor(weight))
            return fail(ErrorCode::NotEstimable, "a permutation needs whole weights");
        total += weight;
    }
    if (total > kMostLives)
        return fail(ErrorCode::NotEstimable, "a permutation is for tables of at most 20,000 lives");
    std::vector<std::size_t> rows;
    for (std::size_t i = 0; i < lives.size(); ++i)
        rows.insert(rows.end(), static_cast<std::size_t>(lives.weightOf(i)), i);
    // By content, so that the order of the table changes nothing.
    std::sort(rows.begin(), rows.end(), [&](std::size_t a, std::size_t b) {
        const auto key = [&](std::size_t i) {
            return std::tuple(lives.stratumOf(i), lives.miles[i], lives.cameBack(i), lives.entryOf(i),
                              lives.groupOf(i));
        };
        return key(a) < key(b);
    });
    Lives all;
    all.groupNames = lives.groupNames;
    all.endNames = lives.endNames;
    all.stratumNames = lives.stratumNames;
    for (const std::size_t i : rows) {
        all.miles.push_back(lives.miles[i]);
        all.end.push_back(lives.end[i]);
        all.entry.push_back(lives.entryOf(i));
        all.group.push_back(lives.groupOf(i));
        all.stratum.push_back(lives.stratumOf(i));
    }
    return all;
}

// Ranges of the strata in the rows.
std::vector<Range> rangesOf(const Lives& lives) {
    std::vector<Range> ranges;
    for (std::size_t i = 0; i < lives.size(); ++i) {
        if (i == 0 || lives.stratum[i] != lives.stratum[i - 1])
            ranges.emplace_back(i, i);
        ranges.back().second = i + 1;
    }
    return ranges;
}

// The number of different ways to deal the labels, or infinity when there are very many.
double arrangements(const Lives& lives, const std::vector<Range>& ranges) {
    double logarithm = 0;
    for (const auto& [begin, end] : ranges) {
        std::vector<double> sizes(lives.groupNames.size(), 0);
        for (std::size_t i = begin; i < end; ++i)
            ++sizes[lives.group[i]];
        logarithm += std::lgamma(static_cast<double>(end - begin) + 1);
        for (const double size : sizes)
            logarithm -= std::lgamma(size + 1);
    }
    return std::exp(std::min(logarithm, 700.0));
}

// What stays the same however the labels fall: the mileages with a comeback, and over which of them a life
// is watched.
class Dealing {
public:
    Dealing(const Lives& lives, double rho, const std::vector<Range>& ranges);

    /// The chi-square for labels in the order of the lives; 0 where nothing can vary.
    double chiSquare(const std::vector<std::uint32_t>& labels);

private:
    struct Event {
        double watched = 0;
        double comebacks = 0; // times its weight
        double variance = 0;  // w^2 d (n-d)/(n-1)
        double weight = 1;
    };
    struct Watch {
        std::uint32_t begin = 0; // events [begin, end)
        std::uint32_t end = 0;
        bool cameBack = false; // at the last of them
    };
    std::vector<Event> events_;
    std::vector<Watch> watches_;
    std::size_t groups_;
    std::vector<double> steps_; // [event][group], changes of the watched
    compare_sums::Sums sums_;
};

Dealing::Dealing(const Lives& lives, double rho, const std::vector<Range>& ranges)
    : groups_(lives.groupNames.size()), sums_(groups_) {
    const std::vector<Counts> strata = countsByPart(lives, lives.stratum, lives.stratumNames.size());
    for (const auto& [begin, end] : ranges) {
        const Counts& counts = strata[lives.stratum[begin]];
        const std::vector<double> watched = counts.watched();
        const auto firstEvent = static_cast<std::uint32_t>(events_.size());
        std::vector<double> at;
        double survival = 1;
        for (std::size_t i = 0; i < counts.size(); ++i) {
            const double d = counts.comebacks[i];
            if (!(d > 0))
                continue;
            const double n = watched[i];
            const double w = rho == 0 ? 1 : std::pow(survival, rho);
            survival *= (n - d) / n;
            at.push_back(counts.miles[i]);
            events_.push_back({n, w * d, n > 1 ? w * w * d * (n - d) / (n - 1) : 0, w});
        }
        const auto eventBeyond = [&](double miles) {
            return firstEvent +
                   static_cast<std::uint32_t>(std::upper_bound(at.begin(), at.end(), miles) - at.begin());
        };
        for (std::size_t i = begin; i < end; ++i) {
            const double entry = lives.entry[i];
            watches_.push_back({entry > 0 ? eventBeyond(entry) : firstEvent, eventBeyond(lives.miles[i]),
                                lives.cameBack(i)});
        }
    }
    steps_.resize((events_.size() + 1) * groups_);
}

double Dealing::chiSquare(const std::vector<std::uint32_t>& labels) {
    sums_.clear();
    std::fill(steps_.begin(), steps_.end(), 0.0);
    for (std::size_t i = 0; i < watches_.size(); ++i) {
        const Watch& watch = watches_[i];
        if (watch.begin >= watch.end)
            continue;
        steps_[watch.begin * groups_ + labels[i]] += 1;
        steps_[watch.end * groups_ + labels[i]] -= 1;
        if (watch.cameBack)
            sums_.observed[labels[i]] += events_[watch.end - 1].weight;
    }
    const auto size = static_cast<Eigen::Index>(groups_);
    Eigen::VectorXd watched = Eigen::VectorXd::Zero(size);
    for (std::size_t e = 0; e < events_.size(); ++e) {
        const Event& event = events_[e];
        watched += Eigen::Map<const Eigen::VectorXd>(steps_.data() + e * groups_, size);
        const Eigen::VectorXd share = watched / event.watched;
        sums_.expected += event.comebacks * share;
        sums_.variance -= event.variance * share * share.transpose();
        sums_.variance.diagonal() += event.variance * share;
    }
    return sums_.chiSquare().value_or(0);
}

} // namespace

Result<double> permutationP(const Lives& lives, const CompareOptions& options,
                            const PermutationOptions& how) {
    const auto all = unrolled(lives);
    if (!all)
        return failureOf(all);
    const auto truth = compare(countsByStratum(*all), {options.rho, {}});
    if (!truth)
        return failureOf(truth);
    if (!truth->chiSquare || truth->df == 0)
        return fail(ErrorCode::NotEstimable, "there is no chi-square to set the permutations against");
    const double observed = *truth->chiSquare * (1 - 1e-9); // ties count, whatever their rounding

    const std::vector<Range> ranges = rangesOf(*all);
    Dealing dealing(*all, options.rho, ranges);
    std::vector<std::uint32_t> labels = all->group;
    const auto at = [&labels](std::size_t i) { return labels.begin() + static_cast<std::ptrdiff_t>(i); };
    double asLarge = 0;
    double dealt = 0;
    const auto deal = [&] {
        dealt += 1;
        asLarge += dealing.chiSquare(labels) >= observed ? 1 : 0;
    };
    if (arrangements(*all, ranges) <= static_cast<double>(how.most) + 0.5) {
        for (const auto& [begin, end] : ranges)
            std::sort(at(begin), at(end));
        for (bool more = true; more;) {
            deal();
            more = false; // an odometer of arrangements, a wheel a stratum
            for (std::size_t wheel = 0; wheel < ranges.size() && !more; ++wheel)
                more = std::next_permutation(at(ranges[wheel].first), at(ranges[wheel].second));
        }
        return asLarge / dealt;
    }
    std::mt19937_64 generator(how.seed);
    for (std::size_t draw = 0; draw < how.most; ++draw) {
        for (const auto& [begin, end] : ranges)
            for (std::size_t i = end;
                 i-- > begin + 1;) // not std::shuffle, whose draws differ between libraries
                std::swap(labels[i], labels[begin + static_cast<std::size_t>(generator() % (i - begin + 1))]);
        deal();
    }
    return (asLarge + 1) / (dealt + 1);
}

} // namespace milehold::core
