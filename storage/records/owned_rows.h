// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <numeric>
#include <span>
#include <unordered_map>
#include <vector>

namespace milehold::storage {

/// The place of an owner that is not there.
inline constexpr std::uint32_t kNowhere = UINT32_MAX;

/// Where the owners of rows stand. Rows of one owner often follow one another.
template <class Id> class OwnerPlaces {
public:
    void reserve(std::size_t count) { places_.reserve(count); }
    void add(const Id& id, std::uint32_t place) { places_.emplace(id, place); }
    std::uint32_t of(const Id& id) {
        if (id == last_)
            return at_;
        const auto found = places_.find(id);
        last_ = id;
        at_ = found == places_.end() ? kNowhere : found->second;
        return at_;
    }

private:
    std::unordered_map<Id, std::uint32_t> places_;
    Id last_;
    std::uint32_t at_ = kNowhere;
};

/// Numbers of rows by what they belong to, in their order.
class OwnedRows {
public:
    void sort(std::span<const std::uint32_t> owners, std::size_t count) {
        begins_.assign(count + 1, 0);
        for (const std::uint32_t owner : owners)
            ++begins_[owner + 1];
        std::partial_sum(begins_.begin(), begins_.end(), begins_.begin());
        rows_.resize(owners.size());
        std::vector<std::uint32_t> next(begins_.begin(), begins_.end() - 1);
        for (std::uint32_t row = 0; row < owners.size(); ++row)
            rows_[next[owners[row]]++] = row;
    }
    std::span<const std::uint32_t> of(std::size_t owner) const {
        return std::span(rows_).subspan(begins_[owner], begins_[owner + 1] - begins_[owner]);
    }
    template <class Key> void sortEach(Key key) {
        for (std::size_t owner = 0; owner + 1 < begins_.size(); ++owner)
            std::sort(rows_.begin() + begins_[owner], rows_.begin() + begins_[owner + 1],
                      [&](std::uint32_t a, std::uint32_t b) { return key(a) < key(b); });
    }

private:
    std::vector<std::uint32_t> begins_;
    std::vector<std::uint32_t> rows_;
};

} // namespace milehold::storage
