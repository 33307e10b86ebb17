// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/histories.h"

#include <algorithm>
#include <unordered_map>

namespace milehold::core {

std::vector<Histories> historiesByGroup(const Lives& lives, std::span<const double> amount) {
    std::vector<Histories> groups(lives.groupNames.size());
    std::unordered_map<std::uint64_t, std::uint32_t> numbers;
    for (std::size_t i = 0; i < lives.size(); ++i) {
        Histories& group = groups[lives.groupOf(i)];
        const std::uint64_t key = (std::uint64_t{lives.groupOf(i)} << 32U) | lives.vehicle[i];
        const auto [entry, isNew] = numbers.try_emplace(key, group.vehicles);
        const std::uint32_t vehicle = entry->second;
        if (isNew) {
            ++group.vehicles;
            group.windows.vehicle.push_back(vehicle);
            group.windows.from.push_back(0);
            group.windows.to.push_back(0);
        }
        group.windows.to[vehicle] = std::max(group.windows.to[vehicle], lives.miles[i]);
        if (!lives.cameBack(i))
            continue;
        group.comebacks.vehicle.push_back(vehicle);
        group.comebacks.miles.push_back(lives.miles[i]);
        if (!amount.empty())
            group.comebacks.amount.push_back(amount[i]);
    }
    return groups;
}

} // namespace milehold::core
