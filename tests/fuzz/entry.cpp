// SPDX-License-Identifier: GPL-3.0-or-later
// libFuzzer's way in; MILEHOLD_FUZZ_TARGET names the function.
#include "tests/fuzz/targets.h"

#include <cstddef>
#include <cstdint>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    milehold::fuzz::MILEHOLD_FUZZ_TARGET({reinterpret_cast<const char*>(data), size});
    return 0;
}
