// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <unistd.h>
#include <utility>

namespace milehold::storage {

/// A descriptor that is closed on the way out.
class Descriptor {
public:
    explicit Descriptor(int number) : number_(number) {}
    ~Descriptor() {
        if (number_ >= 0)
            ::close(number_);
    }
    Descriptor(const Descriptor&) = delete;
    Descriptor& operator=(const Descriptor&) = delete;
    explicit operator bool() const { return number_ >= 0; }
    int number() const { return number_; }
    /// The failure of a close can be the only word of a failed write.
    bool close() { return ::close(std::exchange(number_, -1)) == 0; }

private:
    int number_;
};

} // namespace milehold::storage
