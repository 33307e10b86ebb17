// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/survival/turnbull.h"

#include <cstddef>

namespace milehold::core {

/// Rows that cover the same innermost intervals first..last (both included), with their weight.
struct Cell {
    std::size_t first = 0, last = 0;
    double weight = 0;
    friend auto operator<=>(const Cell&, const Cell&) = default;
};

/// The problem behind the estimate: maximise the sum of weight * ln(mass of the cell) over masses that sum
/// to 1.
struct InnermostProblem {
    std::vector<MassInterval> intervals;
    std::vector<Cell> cells; ///< distinct, ascending
    double weight = 0;       ///< of all cells
};

/// Input: rows without delayed entry, at least one.
InnermostProblem innermostProblem(std::span<const Observation> rows);

/// Sorts cells and adds up equal ones.
void mergeCells(std::vector<Cell>& cells);

/// Sum of weight / mass over the cells that cover each interval; 1 / weight of it is 1 where mass belongs.
/// `cumulative` has one entry more than there are intervals, from 0 to 1.
std::vector<double> gradient(const InnermostProblem& problem, std::span<const double> cumulative);

double logLikelihood(const InnermostProblem& problem, std::span<const double> cumulative);

/// Newton steps with an active set from masses near the optimum, in place. Leaves them at full accuracy, or
/// as good as they were where no step improves.
void polishMasses(const InnermostProblem& problem, std::vector<double>& masses);

} // namespace milehold::core
