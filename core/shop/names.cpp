// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/shop/names.h"

namespace milehold::core {

std::string vehicleName(std::optional<int> modelYear, std::string_view maker, std::string_view model) {
    std::string name = modelYear ? std::to_string(*modelYear) : std::string();
    for (const std::string_view word : {maker, model}) {
        if (!name.empty() && !word.empty())
            name += ' ';
        name += word;
    }
    return name;
}

std::string partLabel(const PartNumber& part) {
    return part.revisionLabel.empty() ? part.number : part.number + " " + part.revisionLabel;
}

} // namespace milehold::core
