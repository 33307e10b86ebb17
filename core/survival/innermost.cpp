// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/innermost.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace milehold::core {

namespace {

// At one mileage: an exact point begins, then intervals end, then open intervals begin.
using End = std::pair<double, int>;
constexpr int kPoint = 0;
constexpr int kOpen = 2;

End lowerEnd(const Observation& row) {
    return {row.lower, row.isExact() ? kPoint : kOpen};
}

} // namespace

void mergeCells(std::vector<Cell>& cells) {
    std::sort(cells.begin(), cells.end());
    std::size_t kept = 0;
    for (const Cell& cell : cells) {
        if (kept > 0 && cells[kept - 1].first == cell.first && cells[kept - 1].last == cell.last)
            cells[kept - 1].weight += cell.weight;
        else
            cells[kept++] = cell;
    }
    cells.resize(kept);
}

InnermostProblem innermostProblem(std::span<const Observation> rows) {
    std::vector<End> lower;
    std::vector<double> upper;
    for (const Observation& row : rows) {
        lower.push_back(lowerEnd(row));
        upper.push_back(row.upper);
    }
    std::sort(lower.begin(), lower.end());
    lower.erase(std::unique(lower.begin(), lower.end()), lower.end());
    std::sort(upper.begin(), upper.end());
    upper.erase(std::unique(upper.begin(), upper.end()), upper.end());

    InnermostProblem problem;
    std::vector<End> begins;
    std::size_t next = 0;
    for (std::size_t i = 0; i < lower.size(); ++i) {
        // The first upper end behind this lower end closes an innermost interval unless another one begins
        // before it.
        while (next < upper.size() && End{upper[next], 1} < lower[i])
            ++next;
        if (i + 1 < lower.size() && lower[i + 1] < End{upper[next], 1})
            continue;
        problem.intervals.push_back({lower[i].first, upper[next], 0});
        begins.push_back(lower[i]);
    }
    for (const Observation& row : rows) {
        const auto first = std::lower_bound(begins.begin(), begins.end(), lowerEnd(row)) - begins.begin();
        const auto end = std::upper_bound(problem.intervals.begin(), problem.intervals.end(), row.upper,
                                          [](double to, const MassInterval& m) { return to < m.to; }) -
                         problem.intervals.begin();
        problem.cells.push_back(
            {static_cast<std::size_t>(first), static_cast<std::size_t>(end - 1), row.weight});
        problem.weight += row.weight;
    }
    mergeCells(problem.cells);
    return problem;
}

std::vector<double> gradient(const InnermostProblem& problem, std::span<const double> cumulative) {
    std::vector<double> change(problem.intervals.size() + 1, 0.0);
    for (const Cell& cell : problem.cells) {
        const double ratio = cell.weight / (cumulative[cell.last + 1] - cumulative[cell.first]);
        change[cell.first] += ratio;
        change[cell.last + 1] -= ratio;
    }
    change.pop_back();
    double sum = 0;
    for (double& value : change)
        value = sum += value;
    return change;
}

double logLikelihood(const InnermostProblem& problem, std::span<const double> cumulative) {
    double sum = 0;
    for (const Cell& cell : problem.cells)
        sum += cell.weight * std::log(cumulative[cell.last + 1] - cumulative[cell.first]);
    return std::isnan(sum) ? -HUGE_VAL : sum;
}

} // namespace milehold::core
