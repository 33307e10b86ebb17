// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstdint>
#include <string>
#include <unordered_map>
#include <utility>
#include <vector>

namespace milehold::storage {

/// Texts of which many rows have the same, once each.
class NumberedTexts {
public:
    NumberedTexts() = default;
    NumberedTexts(const NumberedTexts&) = delete; // a copy would point into the texts of the first
    NumberedTexts& operator=(const NumberedTexts&) = delete;

    std::uint32_t numberOf(std::string text) {
        const auto [place, isNew] =
            numbers_.try_emplace(std::move(text), static_cast<std::uint32_t>(all_.size()));
        if (isNew)
            all_.push_back(&place->first);
        return place->second;
    }
    const std::string& text(std::uint32_t number) const { return *all_[number]; }

private:
    std::unordered_map<std::string, std::uint32_t> numbers_;
    std::vector<const std::string*> all_;
};

} // namespace milehold::storage
