// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/shelf.h"

#include <QString>

#include <cstddef>
#include <utility>
#include <vector>

namespace milehold::ui {

/// One part number or calibration in its line of succession, placed on a grid: older at the left.
struct ChainLink {
    core::Uuid id;
    QString name;
    QString note; ///< the day it came, or what changed
    int column = 0;
    int row = 0;
    bool here = false;    ///< the record that is being looked at
    bool current = false; ///< nothing supersedes it
    friend bool operator==(const ChainLink&, const ChainLink&) = default;
};

/// All that succeeds each other with the record in question; arrows run from an index to its successor's.
struct Chain {
    std::vector<ChainLink> links;
    std::vector<std::pair<std::size_t, std::size_t>> arrows;
    int columns = 0;
    int rows = 0;
};

/// The chain through `part`, as the shelf would be with it. A stored cycle is shown as far as it is a chain.
Chain chainOf(const core::PartNumber& part, const core::Shelf& shelf);
/// A calibration may have several successors; each gets a row.
Chain chainOf(const core::Calibration& calibration, const core::Shelf& shelf);

} // namespace milehold::ui
