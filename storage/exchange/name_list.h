// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

namespace milehold::storage {

/// Numbers names in order of first appearance; asking for the name of the row before costs one comparison.
class NameList {
public:
    NameList() = default;
    explicit NameList(std::vector<std::string> known) {
        for (const std::string& name : known)
            indexOf(name);
    }

    std::uint32_t indexOf(std::string_view name) {
        if (last_ < names_.size() && names_[last_] == name)
            return last_;
        const auto found = index_.find(name);
        if (found != index_.end())
            return last_ = found->second;
        last_ = static_cast<std::uint32_t>(names_.size());
        names_.emplace_back(name);
        index_.emplace(names_.back(), last_);
        return last_;
    }

    const std::vector<std::string>& names() const { return names_; }
    std::vector<std::string> take() { return std::move(names_); }

private:
    struct Hash {
        using is_transparent = void;
        std::size_t operator()(std::string_view text) const { return std::hash<std::string_view>{}(text); }
    };
    std::vector<std::string> names_;
    std::unordered_map<std::string, std::uint32_t, Hash, std::equal_to<>> index_;
    std::uint32_t last_ = 0;
};

} // namespace milehold::storage
