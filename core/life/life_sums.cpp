// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/life/life_sums.h"

#include "core/life/evidence_sum.h"
#include "core/survival/digit_sort.h"

#include <boost/math/tools/toms748_solve.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

namespace milehold::core {

namespace {

constexpr double kShareTolerance = 1e-9;
constexpr boost::uintmax_t kMostSteps = 200; ///< bisection alone would need 30

/// Metres, and below them one bit that says whether a life came back there.
using Key = std::uint64_t;

Key keyOf(Distance at, bool cameBack) {
    return static_cast<Key>(at.metres()) << 1U | (cameBack ? 1U : 0U);
}

void sort(std::vector<Key>& keys) {
    Key all = 0;
    for (const Key key : keys)
        all |= key;
    const auto same = [](Key key) { return key; };
    if (all < Key{1} << (3 * kDigitBits))
        sortByDigits<3>(keys, same);
    else
        sortByDigits<6>(keys, same);
}

/// Counts of the lives of one reading, gathered as keys.
class Gathered {
public:
    Gathered(Reading reading, Intervals intervals, std::size_t most)
        : reading_(reading), intervals_(intervals) {
        exits_.reserve(most);
    }

    void add(const LifeMark& life) {
        if (!isCounted(life, reading_))
            return;
        const LifePoint point = pointOf(life, reading_, intervals_);
        exits_.push_back(keyOf(point.at, point.cameBack));
        if (life.entry > Distance())
            entries_.push_back(keyOf(life.entry, false));
    }

    Counts counted(DistanceUnit unit) {
        Counts counts;
        sort(exits_);
        const std::size_t distinct = distinctOf(exits_);
        counts.miles.reserve(distinct);
        counts.comebacks.reserve(distinct);
        counts.left.reserve(distinct);
        for (std::size_t i = 0; i < exits_.size();) {
            const Key at = exits_[i] >> 1U;
            std::array<double, 2> sums{};
            for (; i < exits_.size() && exits_[i] >> 1U == at; ++i)
                sums[exits_[i] & 1U] += 1;
            counts.miles.push_back(Distance::fromMetres(static_cast<std::int64_t>(at)).in(unit));
            counts.left.push_back(sums[0]);
            counts.comebacks.push_back(sums[1]);
        }
        sort(entries_);
        for (const Key key : entries_) {
            const double at = Distance::fromMetres(static_cast<std::int64_t>(key >> 1U)).in(unit);
            if (counts.entryMiles.empty() || counts.entryMiles.back() != at) {
                counts.entryMiles.push_back(at);
                counts.entered.push_back(0);
            }
            counts.entered.back() += 1;
        }
        return counts;
    }

private:
    static std::size_t distinctOf(const std::vector<Key>& sorted) {
        std::size_t distinct = sorted.empty() ? 0 : 1;
        for (std::size_t i = 1; i < sorted.size(); ++i)
            distinct += sorted[i] >> 1U != sorted[i - 1] >> 1U ? 1 : 0;
        return distinct;
    }

    Reading reading_;
    Intervals intervals_;
    std::vector<Key> exits_;
    std::vector<Key> entries_;
};

/// Walks up the mileages of counts and knows how many are watched just before each; whole numbers throughout.
class Watched {
public:
    explicit Watched(const Counts& counts) : counts_(counts), notYetGone_(counts.lives()) {
        for (const double entered : counts.entered)
            notYetCome_ += entered;
    }

    std::optional<double> nextMiles() const {
        return at_ < counts_.size() ? std::optional(counts_.miles[at_]) : std::nullopt;
    }
    /// Watched just before `miles`, to which everything below has been passed.
    double watched(double miles) {
        for (; entry_ < counts_.entryMiles.size() && counts_.entryMiles[entry_] < miles; ++entry_)
            notYetCome_ -= counts_.entered[entry_];
        return notYetGone_ - notYetCome_;
    }
    /// Comebacks at `miles`, which are passed.
    double pass(double miles) {
        if (at_ == counts_.size() || counts_.miles[at_] != miles)
            return 0;
        const double back = counts_.comebacks[at_];
        notYetGone_ -= back + counts_.left[at_];
        ++at_;
        return back;
    }

private:
    const Counts& counts_;
    std::size_t at_ = 0;
    std::size_t entry_ = 0;
    double notYetGone_ = 0;
    double notYetCome_ = 0;
};

/// Product limit just after `miles`, as survivalCurve() has it; empty past the last watched distance.
std::optional<double> survivalAt(const Counts& counts, double miles) {
    if (counts.size() == 0 || !(miles >= 0) || miles > counts.longestWatched())
        return std::nullopt;
    Watched walk(counts);
    double survival = 1;
    for (auto at = walk.nextMiles(); at && *at <= miles; at = walk.nextMiles()) {
        const double n = walk.watched(*at);
        const double d = walk.pass(*at);
        if (d > 0)
            survival *= (n - d) / n;
    }
    return survival;
}

/// The chance at a distance as it depends on the share of unseen lives that failed right away: every life
/// quiet all along with weight 1 - share, failed with weight share. Counts of such weights are the mixed
/// counts.
class Mixed {
public:
    Mixed(const Counts& best, const Counts& worst, double miles) {
        Watched quiet(best);
        Watched failed(worst);
        while (true) {
            const auto a = quiet.nextMiles();
            const auto b = failed.nextMiles();
            if (!a && !b)
                return;
            const double at = !a ? *b : !b ? *a : std::min(*a, *b);
            if (at > miles)
                return;
            const double watchedQuiet = quiet.watched(at);
            const double watchedFailed = failed.watched(at);
            const double backQuiet = quiet.pass(at);
            const double backFailed = failed.pass(at);
            if (backQuiet > 0 || backFailed > 0) {
                watchedQuiet_.push_back(watchedQuiet);
                watchedFailed_.push_back(watchedFailed);
                backQuiet_.push_back(backQuiet);
                backFailed_.push_back(backFailed);
            }
        }
    }

    double chance(double share) const {
        constexpr std::size_t kBlock = 256;
        std::array<double, kBlock> stay;
        double chance = 1;
        for (std::size_t begin = 0; begin < backQuiet_.size(); begin += kBlock) {
            const std::size_t size = std::min(kBlock, backQuiet_.size() - begin);
            // Divisions first, which do not wait for one another.
            for (std::size_t i = 0; i < size; ++i) {
                const double back = (1 - share) * backQuiet_[begin + i] + share * backFailed_[begin + i];
                const double watched =
                    (1 - share) * watchedQuiet_[begin + i] + share * watchedFailed_[begin + i];
                stay[i] = 1 - back / std::max(watched, kNobody);
            }
            for (std::size_t i = 0; i < size; ++i)
                chance *= stay[i];
        }
        return std::max(chance, 0.0);
    }

private:
    static constexpr double kNobody = 1e-300; // where nobody is watched, nobody comes back
    std::vector<double> watchedQuiet_, watchedFailed_, backQuiet_, backFailed_;
};

} // namespace

const Counts& LifeSums::of(Reading reading) const {
    switch (reading) {
    case Reading::Best:
        return best;
    case Reading::Known:
        break;
    case Reading::Worst:
        return begin;
    }
    return known;
}

LifeSums sumsOf(std::span<const LifeMark> lives, DistanceUnit unit) {
    LifeSums sums;
    sums.unit = unit;
    EvidenceSum evidence(unit);
    for (const LifeMark& life : lives) {
        evidence.add(life);
        if (life.mayHaveFailed && isCounted(life, Reading::Best))
            sums.unseenFrom.push_back(life.known);
    }
    const auto count = [&](Reading reading, Intervals intervals) {
        Gathered gathered(reading, intervals, lives.size());
        for (const LifeMark& life : lives)
            gathered.add(life);
        return gathered.counted(unit);
    };
    sums.known = count(Reading::Known, Intervals::AsRead);
    sums.best = count(Reading::Best, Intervals::AsRead);
    sums.begin = count(Reading::Worst, Intervals::AsRead);
    sums.seen = count(Reading::Worst, Intervals::AtSeen);
    sums.evidence = evidence.total(sums.known);
    return sums;
}

LifeSums merged(std::span<const LifeSums> parts) {
    if (parts.size() == 1)
        return parts.front();
    LifeSums all;
    all.unit = parts.front().unit;
    EvidenceSum evidence(all.unit);
    for (const LifeSums& part : parts) {
        evidence.add(part.evidence);
        all.unseenFrom.insert(all.unseenFrom.end(), part.unseenFrom.begin(), part.unseenFrom.end());
    }
    for (const auto counts : {&LifeSums::known, &LifeSums::best, &LifeSums::begin, &LifeSums::seen}) {
        std::vector<Counts> each;
        each.reserve(parts.size());
        for (const LifeSums& part : parts)
            each.push_back(part.*counts);
        all.*counts = merged(std::span<const Counts>(each));
    }
    all.evidence = evidence.total(all.known);
    return all;
}

ThreeReadings readingsAt(const LifeSums& sums, double miles) {
    ThreeReadings readings{miles, survivalAt(sums.best, miles), survivalAt(sums.known, miles), std::nullopt};
    if (const auto where = survivalAt(sums.seen, miles)) {
        // Past its last distance the earlier curve is at most what it was there.
        const double furthest = std::min(miles, sums.begin.longestWatched());
        readings.worst = std::min(*where, survivalAt(sums.begin, furthest).value_or(1));
    }
    return readings;
}

Result<TippingPoint> tippingPoint(const LifeSums& sums, double claim, Distance horizon) {
    if (!(claim > 0 && claim < 1))
        return fail(ErrorCode::InvalidInput, "the claim is not between 0 and 1");
    if (horizon <= Distance())
        return fail(ErrorCode::InvalidInput, "the horizon is not positive");
    if (sums.best.size() == 0)
        return fail(ErrorCode::InvalidInput, "there are no lives");
    const double miles = horizon.in(sums.unit);
    if (sums.best.longestWatched() < miles)
        return fail(ErrorCode::NotEstimable, "nothing was watched, nor may have been, as far as the horizon");
    TippingPoint point;
    point.unseenLives = static_cast<std::size_t>(
        std::ranges::count_if(sums.unseenFrom, [horizon](Distance known) { return known < horizon; }));
    const Mixed mixed(sums.best, sums.seen, miles);
    point.best = mixed.chance(0);
    point.worst = mixed.chance(1);
    if (point.best < claim) {
        point.verdict = TippingPoint::Verdict::FailsAnyway;
        return point;
    }
    if (point.unseenLives == 0)
        return point;
    if (point.worst >= claim) {
        point.verdict = TippingPoint::Verdict::HoldsAnyway;
        return point;
    }
    // The chance falls with the share; the bracket closes around where it passes the claim.
    const auto above = [&](double share) { return mixed.chance(share) - claim; };
    const auto closed = [](double a, double b) { return std::abs(b - a) <= kShareTolerance; };
    boost::uintmax_t most = kMostSteps;
    const auto bracket = boost::math::tools::toms748_solve(above, 0.0, 1.0, point.best - claim,
                                                           point.worst - claim, closed, most);
    point.verdict = TippingPoint::Verdict::Falls;
    point.share = std::max(bracket.second, kShareTolerance);
    return point;
}

} // namespace milehold::core
