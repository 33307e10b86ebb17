// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quote/given_quote.h"
#include "core/result.h"
#include "sample-shop/sample_shop.h"

#include <vector>

namespace milehold::sample {

/// What the shop told before its newest repairs, as the program would have quoted it then: from the book as
/// it stood at the beginning of that month, and nothing that came later. The chance is that of the program's
/// own quote, so whether it holds is for the book to show.
///
/// Empty for a sample of more than 2,000 jobs, where looking back month by month would take too long.
core::Result<std::vector<core::GivenQuote>> quotesGiven(const SampleShop& sample);

} // namespace milehold::sample
