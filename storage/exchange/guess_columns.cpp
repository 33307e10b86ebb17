// SPDX-License-Identifier: GPL-3.0-or-later
// What the header of a table from elsewhere stands for.
#include "storage/exchange/records_file.h"

#include <algorithm>
#include <array>
#include <utility>

namespace milehold::storage {

namespace {

/// Letters and digits alone, folded to lower case: `Model Year` and `model_year` are one.
std::string folded(std::string_view words) {
    std::string key;
    for (const char c : words) {
        if (c >= 'A' && c <= 'Z')
            key += static_cast<char>(c - 'A' + 'a');
        else if ((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9'))
            key += c;
    }
    return key;
}

/// Everyday words of tables and the column that each may be, the likelier first where there are several.
constexpr std::array<std::pair<std::string_view, std::string_view>, 66> kWords = {{
    {"vehicleidentificationnumber", "vin"},
    {"chassisnumber", "vin"},
    {"licenseplate", "plate"},
    {"licenceplate", "plate"},
    {"registration", "plate"},
    {"tag", "plate"},
    {"make", "maker"},
    {"manufacturer", "maker"},
    {"year", "model_year"},
    {"engine", "family"},
    {"enginefamily", "family"},
    {"owner", "customer"},
    {"customername", "customer"},
    {"customername", "name"},
    {"customer", "name"},
    {"client", "name"},
    {"fullname", "name"},
    {"owner", "name"},
    {"ownersphone", "customer_phone"},
    {"phone", "phones"},
    {"phone", "customer_phone"},
    {"phonenumber", "phones"},
    {"telephone", "phones"},
    {"mobile", "phones"},
    {"cell", "phones"},
    {"email", "emails"},
    {"mail", "emails"},
    {"donotcontact", "do_not_call"},
    {"notes", "note"},
    {"remarks", "note"},
    {"comment", "note"},
    {"ro", "repair_order"},
    {"ronumber", "repair_order"},
    {"repairordernumber", "repair_order"},
    {"workorder", "repair_order"},
    {"invoice", "repair_order"},
    {"jobnumber", "number"},
    {"jobnumber", "job"},
    {"repairpath", "path"},
    {"repair", "path"},
    {"service", "path"},
    {"opened", "written_up"},
    {"datein", "written_up"},
    {"date", "written_up"},
    {"day", "date"},
    {"calledon", "date"},
    {"completed", "delivered"},
    {"closed", "delivered"},
    {"dateout", "delivered"},
    {"mileagein", "odometer_in"},
    {"milesin", "odometer_in"},
    {"mileageout", "odometer_out"},
    {"milesout", "odometer_out"},
    {"mileage", "odometer"},
    {"mileage", "odometer_in"},
    {"odometer", "odometer_in"},
    {"miles", "odometer"},
    {"reading", "odometer"},
    {"tech", "technician"},
    {"mechanic", "technician"},
    {"serviceadvisor", "advisor"},
    {"complaint", "concern"},
    {"labour", "labour_price"},
    {"labor", "labour_price"},
    {"result", "outcome"},
    {"answer", "outcome"},
}};

} // namespace

std::vector<std::string> guessColumns(RecordFile file, const std::vector<std::string>& header) {
    const auto columns = columnsOf(file);
    std::vector<std::string> guessed(header.size());
    const auto take = [&](std::size_t place, std::string_view column) {
        if (guessed[place].empty() && std::ranges::find(columns, column) != columns.end() &&
            std::ranges::find(guessed, column) == guessed.end())
            guessed[place] = column;
    };
    // A column that bears our own name comes before one that only means it.
    for (std::size_t i = 0; i < header.size(); ++i)
        for (const auto& column : columns)
            if (folded(header[i]) == folded(column))
                take(i, column);
    for (std::size_t i = 0; i < header.size(); ++i)
        for (const auto& [word, column] : kWords)
            if (folded(header[i]) == word)
                take(i, column);
    return guessed;
}

core::Result<TableStart> readStart(ByteSource source, const std::string& name, std::size_t mostRows) {
    CsvRows rows(std::move(source), name);
    TableStart start;
    const auto cells = [&] { return std::vector<std::string>(rows.cells().begin(), rows.cells().end()); };
    auto more = rows.next();
    if (!more)
        return core::failureOf(more);
    if (!*more)
        return core::fail(core::ErrorCode::InvalidInput,
                          rows.place() + ": the file is empty; expected a header row");
    start.header = cells();
    while (start.rows.size() < mostRows) {
        more = rows.next();
        if (!more)
            return core::failureOf(more);
        if (!*more)
            break;
        start.rows.push_back(cells());
    }
    return start;
}

} // namespace milehold::storage
