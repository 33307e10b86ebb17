// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/counts.h"

#include "core/survival/tally.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

namespace milehold::core {

namespace {

// Kinds of a tally when ends are not told apart.
constexpr std::uint16_t kLeft = 0;
constexpr std::uint16_t kComeback = 1;

Counts countsOf(Tally&& exits, Tally&& entries, bool splitEnds) {
    Counts counts;
    counts.miles = std::move(exits.at);
    counts.comebacks = std::move(exits.sums[kCameBack]);
    if (splitEnds) {
        exits.sums[kCameBack].clear();
        counts.left.assign(counts.miles.size(), 0);
        for (const auto& sums : exits.sums)
            for (std::size_t i = 0; i < sums.size(); ++i)
                counts.left[i] += sums[i];
        counts.leftBy = std::move(exits.sums);
    } else {
        counts.left = std::move(exits.sums[kLeft]);
    }
    counts.entryMiles = std::move(entries.at);
    counts.entered = std::move(entries.sums[0]);
    return counts;
}

// Only the lives that are watched from beyond 0 on.
std::vector<Tally> tallyEntries(const Lives& lives, std::span<const std::uint32_t> group,
                                std::size_t groups) {
    std::vector<double> at;
    std::vector<std::uint32_t> groupOf;
    std::vector<double> weight;
    for (std::size_t i = 0; i < lives.entry.size(); ++i) {
        if (lives.entry[i] == 0)
            continue;
        at.push_back(lives.entry[i]);
        if (!group.empty())
            groupOf.push_back(group[i]);
        if (!lives.weight.empty())
            weight.push_back(lives.weight[i]);
    }
    Points points;
    points.at = at;
    points.group = groupOf;
    points.weight = weight;
    points.groups = groups;
    return tallied(points);
}

// Adds `column` of `from` into `into`, whose mileages contain those of `from`.
void addAt(const std::vector<double>& milesInto, std::vector<double>& into,
           const std::vector<double>& milesFrom, const std::vector<double>& from) {
    std::size_t at = 0;
    for (std::size_t i = 0; i < from.size(); ++i) {
        while (milesInto[at] != milesFrom[i])
            ++at;
        into[at] += from[i];
    }
}

std::vector<double> unionOf(const std::vector<double>& a, const std::vector<double>& b) {
    std::vector<double> all;
    all.reserve(a.size() + b.size());
    std::set_union(a.begin(), a.end(), b.begin(), b.end(), std::back_inserter(all));
    return all;
}

} // namespace

double Counts::lives() const {
    return allComebacks() + std::accumulate(left.begin(), left.end(), 0.0);
}

double Counts::allComebacks() const {
    return std::accumulate(comebacks.begin(), comebacks.end(), 0.0);
}

double Counts::longestWatched() const {
    return miles.empty() ? 0 : miles.back();
}

bool Counts::isWhole() const {
    const auto whole = [](double x) { return x == std::floor(x); };
    return std::all_of(comebacks.begin(), comebacks.end(), whole) &&
           std::all_of(left.begin(), left.end(), whole) && std::all_of(entered.begin(), entered.end(), whole);
}

std::vector<double> Counts::watched() const {
    const std::size_t h = size();
    std::vector<double> n(h);
    double notYetGone = 0;
    if (entryMiles.empty()) {
        for (std::size_t i = h; i-- > 0;)
            n[i] = notYetGone += comebacks[i] + left[i];
        return n;
    }
    const bool whole = isWhole();
    double notYetCome = 0;
    std::size_t e = entryMiles.size();
    for (std::size_t i = h; i-- > 0;) {
        const double going = comebacks[i] + left[i];
        notYetGone += going;
        while (e > 0 && entryMiles[e - 1] >= miles[i])
            notYetCome += entered[--e];
        n[i] = notYetGone - notYetCome;
        // Those who go were there to go.
        if (!whole && n[i] - going < kResidue * notYetGone)
            n[i] = going;
    }
    return n;
}

double Counts::watchedAt(double t) const {
    const auto from = std::lower_bound(miles.begin(), miles.end(), t) - miles.begin();
    const auto late = std::lower_bound(entryMiles.begin(), entryMiles.end(), t) - entryMiles.begin();
    const double notYetGone = std::accumulate(comebacks.begin() + from, comebacks.end(), 0.0) +
                              std::accumulate(left.begin() + from, left.end(), 0.0);
    const double notYetCome = std::accumulate(entered.begin() + late, entered.end(), 0.0);
    const double n = notYetGone - notYetCome;
    return !entryMiles.empty() && !isWhole() && n < kResidue * notYetGone ? 0 : n;
}

std::vector<Counts> countsByPart(const Lives& lives, std::span<const std::uint32_t> part, std::size_t parts,
                                 bool splitEnds) {
    std::vector<std::uint16_t> kinds(lives.endNames.size(), kLeft);
    if (splitEnds)
        std::iota(kinds.begin(), kinds.end(), std::uint16_t{0});
    else
        kinds[kCameBack] = kComeback;

    Points points;
    points.at = lives.miles;
    points.group = part;
    points.code = lives.end;
    points.weight = lives.weight;
    points.groups = parts;
    points.kindOfCode = kinds;
    points.kinds = splitEnds ? kinds.size() : 2;

    std::vector<Tally> exits = tallied(points);
    std::vector<Tally> entries = tallyEntries(lives, part, parts);
    std::vector<Counts> all;
    all.reserve(parts);
    for (std::size_t g = 0; g < parts; ++g)
        all.push_back(countsOf(std::move(exits[g]), std::move(entries[g]), splitEnds));
    return all;
}

std::vector<Counts> countsByGroup(const Lives& lives, bool splitEnds) {
    return countsByPart(lives, lives.group, lives.groupNames.size(), splitEnds);
}

Counts countsOfAll(const Lives& lives, bool splitEnds) {
    return std::move(countsByPart(lives, {}, 1, splitEnds).front());
}

Counts countsFromRows(std::span<const CountRow> rows, bool splitEnds) {
    Lives lives;
    EndCode last = kCameBack;
    for (const CountRow& row : rows) {
        if (row.count == 0)
            continue;
        lives.miles.push_back(row.miles);
        lives.end.push_back(row.end);
        lives.entry.push_back(row.entry);
        lives.weight.push_back(row.count);
        last = std::max(last, row.end);
    }
    lives.endNames.resize(std::size_t{last} + 1);
    return countsOfAll(lives, splitEnds);
}

Counts merged(const Counts& a, const Counts& b) {
    Counts both;
    both.miles.resize(a.size() + b.size());
    both.comebacks.resize(both.miles.size());
    both.left.resize(both.miles.size());
    // Which of the two comes next is not to be guessed, so that nothing branches on it.
    constexpr double kEnd = std::numeric_limits<double>::infinity();
    std::size_t h = 0;
    for (std::size_t i = 0, k = 0; i < a.size() || k < b.size(); ++h) {
        const double inA = i < a.size() ? a.miles[i] : kEnd;
        const double inB = k < b.size() ? b.miles[k] : kEnd;
        const bool fromA = inA <= inB;
        const bool fromB = inB <= inA;
        const std::size_t atA = fromA ? i : 0;
        const std::size_t atB = fromB ? k : 0;
        both.miles[h] = fromA ? inA : inB;
        both.comebacks[h] = (fromA ? a.comebacks[atA] : 0) + (fromB ? b.comebacks[atB] : 0);
        both.left[h] = (fromA ? a.left[atA] : 0) + (fromB ? b.left[atB] : 0);
        i += fromA ? 1 : 0;
        k += fromB ? 1 : 0;
    }
    both.miles.resize(h);
    both.comebacks.resize(h);
    both.left.resize(h);
    both.entryMiles = unionOf(a.entryMiles, b.entryMiles);
    both.entered.assign(both.entryMiles.size(), 0);
    both.leftBy.resize(std::max(a.leftBy.size(), b.leftBy.size()));
    for (std::size_t code = 0; code < both.leftBy.size(); ++code)
        if (code != kCameBack)
            both.leftBy[code].assign(both.miles.size(), 0);
    for (const Counts* part : {&a, &b}) {
        addAt(both.entryMiles, both.entered, part->entryMiles, part->entered);
        for (std::size_t code = 0; code < part->leftBy.size(); ++code)
            addAt(both.miles, both.leftBy[code], part->miles, part->leftBy[code]);
    }
    return both;
}

Counts merged(std::span<const Counts> parts) {
    if (parts.size() <= 2)
        return parts.empty() ? Counts() : parts.size() == 1 ? parts[0] : merged(parts[0], parts[1]);
    // Halves, so that a mileage is looked at O(log parts) times.
    const std::size_t half = parts.size() / 2;
    return merged(merged(parts.first(half)), merged(parts.subspan(half)));
}

Counts restartedAt(const Counts& counts, double given) {
    const auto after =
        std::upper_bound(counts.miles.begin(), counts.miles.end(), given) - counts.miles.begin();
    const auto late = std::upper_bound(counts.entryMiles.begin(), counts.entryMiles.end(), given) -
                      counts.entryMiles.begin();
    const auto rest = [](const std::vector<double>& column, std::ptrdiff_t from) {
        return column.empty() ? column : std::vector<double>(column.begin() + from, column.end());
    };
    Counts beyond;
    beyond.miles = rest(counts.miles, after);
    beyond.comebacks = rest(counts.comebacks, after);
    beyond.left = rest(counts.left, after);
    beyond.entryMiles = rest(counts.entryMiles, late);
    beyond.entered = rest(counts.entered, late);
    for (const auto& column : counts.leftBy)
        beyond.leftBy.push_back(rest(column, after));
    return beyond;
}

} // namespace milehold::core
