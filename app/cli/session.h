// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"

#include <cstdint>
#include <functional>
#include <iosfwd>
#include <string>

namespace milehold::cli {

enum class Format : std::uint8_t { Text, Json, Csv };

/// What a command works with. `out` reaches standard output only after the command has succeeded.
struct Session {
    Format format = Format::Text;
    std::string out;
    std::ostream& err; ///< warnings and progress; an error is returned instead
};

/// What a command does once its options have been read. A failure's detail is the sentence for standard
/// error.
using Action = std::function<core::Result<void>(Session&)>;

/// 2 for what the caller can put right in the input or the options, 1 for a failure.
int exitCodeOf(core::ErrorCode code);

/// Reads the arguments, runs the command and returns the exit code.
int run(int argc, const char* const* argv, std::ostream& out, std::ostream& err);

} // namespace milehold::cli
