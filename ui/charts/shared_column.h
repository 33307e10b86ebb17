// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <initializer_list>
#include <memory>
#include <utility>
#include <vector>

namespace milehold::ui {

/// Numbers that are not changed and may be held by many: a curve of a large shop has hundreds of thousands of
/// steps, and copying them takes longer than a frame.
class SharedColumn {
public:
    SharedColumn() : numbers_(none()) {}
    SharedColumn(std::vector<double> numbers)
        : numbers_(std::make_shared<const std::vector<double>>(std::move(numbers))) {}
    SharedColumn(std::initializer_list<double> numbers) : SharedColumn(std::vector<double>(numbers)) {}
    /// Of somebody else's, whom the pointer keeps alive; never null.
    explicit SharedColumn(std::shared_ptr<const std::vector<double>> numbers)
        : numbers_(std::move(numbers)) {}

    std::size_t size() const { return numbers_->size(); }
    bool empty() const { return numbers_->empty(); }
    double operator[](std::size_t i) const { return (*numbers_)[i]; }
    double front() const { return numbers_->front(); }
    double back() const { return numbers_->back(); }
    const double* data() const { return numbers_->data(); }
    friend bool operator==(const SharedColumn& a, const SharedColumn& b) {
        return *a.numbers_ == *b.numbers_;
    }
    auto begin() const { return numbers_->begin(); }
    auto end() const { return numbers_->end(); }

private:
    static const std::shared_ptr<const std::vector<double>>& none() {
        static const auto empty = std::make_shared<const std::vector<double>>();
        return empty;
    }
    std::shared_ptr<const std::vector<double>> numbers_;
};

} // namespace milehold::ui
