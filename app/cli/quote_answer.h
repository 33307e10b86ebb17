// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/cli/session.h"
#include "core/quote/quote.h"

#include <cstdint>
#include <unordered_map>

namespace milehold::cli {

/// What a quote is read out with.
struct QuoteFrame {
    std::string vehicle;                                      ///< what it is for, in words
    std::string currency;                                     ///< ISO 4217
    std::unordered_map<core::JobId, std::int64_t> jobNumbers; ///< the numbers of the records behind it
};

/// Writes the quote in the session's form: sentences and tables, JSON, or one CSV table of its points.
void answerQuote(Session& session, const core::Quote& quote, const QuoteFrame& frame);

} // namespace milehold::cli
