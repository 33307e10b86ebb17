// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/cli/session.h"
#include "core/survival/curve.h"

#include <optional>
#include <string>
#include <vector>

namespace milehold::cli {

/// Shares failed whose mileages every curve states.
inline constexpr double kCurveShares[] = {0.25, 0.5, 0.75};

/// What `curve` was asked.
struct CurveRequest {
    core::CurveOptions curve;
    std::string limits; ///< the option as written
    std::vector<double> at;
    std::optional<double> tau;
    std::optional<double> given;
};

/// Answers from the product limit.
/// Errors: InvalidInput when the horizon goes beyond the longest watch of a group.
core::Result<void> answerByProductLimit(Session& session, const core::Lives& lives,
                                        const CurveRequest& request);

/// Answers from intervals, after Turnbull. A mileage strictly inside an interval has no value; the limits at
/// the mileages asked for are bootstrap ones of a fixed seed. Errors: as above; Unsupported with delayed
/// entries; those of core::turnbull.
core::Result<void> answerByIntervals(Session& session, const core::Lives& lives, const CurveRequest& request);

/// Refuses a horizon that is 0 or beyond the longest watch of a group.
core::Result<void> checkHorizon(const core::Lives& lives, const CurveRequest& request);

} // namespace milehold::cli
