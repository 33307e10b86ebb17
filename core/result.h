// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <tl/expected.hpp>

#include <cstdint>
#include <string>
#include <utility>

namespace milehold::core {

/// What kind of foreseeable failure happened. The window and the command line word it for people.
enum class ErrorCode : std::uint8_t {
    InvalidInput,   ///< a value breaks a rule that its caller could have checked
    NotFound,       ///< the record, file or group asked for does not exist
    Conflict,       ///< somebody else changed the record meanwhile
    NotEstimable,   ///< the data carry no finite estimate; the detail says why
    NoConvergence,  ///< an iteration did not reach its tolerance
    Unreadable,     ///< a file or database cannot be read or is damaged
    NotAShop,       ///< the file or folder is something else
    TooNew,         ///< written by a newer program
    InUse,          ///< another process holds it
    ReadOnly,       ///< no right to write
    DiskProblem,    ///< full, or failing
    Offline,        ///< the server does not answer; nothing of the act was stored
    GivenUp,        ///< given up for another's sake; all of it may be run again
    OutcomeUnknown, ///< the commit was cut off; look the record up before telling anybody
    Unsupported,    ///< a place or form this program refuses on purpose
    Internal,       ///< a defect of ours
};

/// A failure: its kind, and an English sentence for the log and the command line. Never holds customer data.
struct Error {
    ErrorCode code = ErrorCode::Internal;
    std::string detail;
    friend bool operator==(const Error&, const Error&) = default;
};

/// A value or the reason why there is none. tl::expected may be dropped without a warning; this may not.
template <class T> class [[nodiscard]] Result : public tl::expected<T, Error> {
public:
    using tl::expected<T, Error>::expected;
};

/// `return fail(ErrorCode::NotFound, "no vehicle with this id");`
inline tl::unexpected<Error> fail(ErrorCode code, std::string detail) {
    return tl::unexpected<Error>(Error{code, std::move(detail)});
}

/// Passes the failure of one result on as the failure of another.
template <class T> tl::unexpected<Error> failureOf(const Result<T>& result) {
    return tl::unexpected<Error>(result.error());
}

} // namespace milehold::core
