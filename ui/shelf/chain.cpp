// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/shelf/chain.h"

#include "ui/shelf/shelf_record.h"
#include "ui/widgets/text.h"

#include <algorithm>
#include <map>
#include <set>

namespace milehold::ui {
namespace {

/// A record and the pairs (older, newer) of its kind.
struct Node {
    QString name;
    QString note;
    std::optional<core::Date> since;
};
struct Family {
    std::map<core::Uuid, Node> nodes;
    std::vector<std::pair<core::Uuid, core::Uuid>> pairs;
};

std::set<core::Uuid> relatives(const Family& family, const core::Uuid& here) {
    std::set<core::Uuid> found = {here};
    for (bool grew = true; grew;) {
        grew = false;
        for (const auto& [older, newer] : family.pairs) {
            if (found.contains(older) == found.contains(newer))
                continue;
            found.insert(older);
            found.insert(newer);
            grew = true;
        }
    }
    return found;
}

/// Columns by the longest way from an origin; at most as many rounds as there are records, so that a cycle
/// ends.
std::map<core::Uuid, int> columnsOf(const Family& family, const std::set<core::Uuid>& ids) {
    std::map<core::Uuid, int> column;
    for (const core::Uuid& id : ids)
        column[id] = 0;
    for (std::size_t round = 0; round < ids.size(); ++round) {
        bool moved = false;
        for (const auto& [older, newer] : family.pairs) {
            if (!ids.contains(older) || column[newer] > column[older])
                continue;
            column[newer] = std::min(column[older] + 1, static_cast<int>(ids.size()));
            moved = true;
        }
        if (!moved)
            break;
    }
    return column;
}

Chain lay(const Family& family, const core::Uuid& here) {
    const std::set<core::Uuid> ids = relatives(family, here);
    const std::map<core::Uuid, int> column = columnsOf(family, ids);
    std::vector<core::Uuid> order(ids.begin(), ids.end());
    std::sort(order.begin(), order.end(), [&](const core::Uuid& a, const core::Uuid& b) {
        if (column.at(a) != column.at(b))
            return column.at(a) < column.at(b);
        const Node& left = family.nodes.at(a);
        const Node& right = family.nodes.at(b);
        return left.since != right.since ? left.since < right.since : left.name < right.name;
    });

    Chain chain;
    std::map<core::Uuid, std::size_t> index;
    std::set<std::pair<int, int>> taken;
    for (const core::Uuid& id : order) {
        ChainLink link{id,  family.nodes.at(id).name, family.nodes.at(id).note, column.at(id), 0, id == here,
                       true};
        // Beside the record that it follows, where there is room, else in the next free row.
        for (const auto& [older, newer] : family.pairs)
            if (newer == id && index.contains(older))
                link.row = std::max(link.row, chain.links[index[older]].row);
        while (taken.contains({link.column, link.row}))
            ++link.row;
        taken.insert({link.column, link.row});
        chain.columns = std::max(chain.columns, link.column + 1);
        chain.rows = std::max(chain.rows, link.row + 1);
        index[id] = chain.links.size();
        chain.links.push_back(std::move(link));
    }
    for (const auto& [older, newer] : family.pairs) {
        if (!ids.contains(older))
            continue;
        chain.links[index[older]].current = false;
        chain.arrows.emplace_back(index[older], index[newer]);
    }
    return chain;
}

QString since(const std::optional<core::Date>& date) {
    return date && date->ok() ? dateText(*date) : QString();
}

} // namespace

Chain chainOf(const core::PartNumber& part, const core::Shelf& shelf) {
    Family family;
    const auto add = [&](const core::PartNumber& row) {
        family.nodes[row.id.uuid] = {partName(row), since(row.introducedOn), row.introducedOn};
    };
    const auto pair = [&](const core::PartNumber& row) {
        if (row.supersededBy && *row.supersededBy != row.id && family.nodes.contains(row.supersededBy->uuid))
            family.pairs.emplace_back(row.id.uuid, row.supersededBy->uuid);
    };
    for (const core::PartNumber& row : shelf.parts)
        add(row);
    add(part);
    for (const core::PartNumber& row : shelf.parts)
        if (row.id != part.id)
            pair(row);
    pair(part);
    return lay(family, part.id.uuid);
}

Chain chainOf(const core::Calibration& calibration, const core::Shelf& shelf) {
    Family family;
    const auto add = [&](const core::Calibration& row) {
        family.nodes[row.id.uuid] = {toText(row.code), since(row.releasedOn), row.releasedOn};
    };
    const auto pair = [&](const core::Calibration& row) {
        if (row.supersedes && *row.supersedes != row.id && family.nodes.contains(row.supersedes->uuid))
            family.pairs.emplace_back(row.supersedes->uuid, row.id.uuid);
    };
    for (const core::Calibration& row : shelf.calibrations)
        add(row);
    add(calibration);
    for (const core::Calibration& row : shelf.calibrations)
        if (row.id != calibration.id)
            pair(row);
    pair(calibration);
    return lay(family, calibration.id.uuid);
}

} // namespace milehold::ui
