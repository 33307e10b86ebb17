// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"

#include <QString>

namespace milehold::app {

/// What a person at the counter is told about a failure: what happened, and what to do next. The detail of
/// the error goes to the log.
QString sentenceFor(const core::Error& error);

} // namespace milehold::app
