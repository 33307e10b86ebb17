// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"

#include <QString>

namespace milehold::app {

/// What a person at the counter is told about a failure: what happened, and what to do next. The detail of
/// the error goes to the log.
QString sentenceFor(const core::Error& error);

/// The same where a shop was to be opened, and nothing has been typed yet. `where`: its folder or address.
QString sentenceForOpening(const core::Error& error, const QString& where);

} // namespace milehold::app
