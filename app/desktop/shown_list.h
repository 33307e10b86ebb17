// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"
#include "storage/exchange/table_sink.h"

#include <string>
#include <vector>

namespace milehold::storage {
class Shop;
}
namespace milehold::ui {
class RecordTable;
}

namespace milehold::app {

/// A list as it stands on the screen: sorted and filtered, columns from left to right.
struct ShownList {
    std::vector<storage::TableColumn> columns;
    std::vector<std::vector<std::string>> rows; ///< as TableSink takes them
};

/// A column of which every cell is a number by the locale holds numbers, else text.
ShownList readList(const ui::RecordTable& table);
/// Writes the list, and into the change log that it left. Output: the number of rows.
core::Result<std::size_t> writeList(storage::Shop& shop, const ShownList& list, storage::TableSink& sink);

} // namespace milehold::app
