// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/call_due.h"
#include "core/shop/job.h"

#include <QString>
#include <QStringList>

#include <array>
#include <vector>

namespace milehold::ui {

/// One outcome of a call: the letter that logs it, and how it is named.
struct CallOutcome {
    core::FollowUpOutcome outcome;
    int key; ///< Qt::Key
    const char* text;
    const char* icon;
    QString name() const;
    QString letter() const;
};
const std::array<CallOutcome, 8>& callOutcomes();
const CallOutcome& callOutcome(core::FollowUpOutcome outcome);

/// What to ask about a cold start, by what the repair was for.
QString callQuestion(core::ConcernGroup concern);
/// `12 months`, `40,000 mi`: a mark that is due, in a word.
QString dueWord(const core::CallDue& due, core::DistanceUnit unit);
/// The marks that are due, the most telling first; blank when none is.
QString dueWords(const std::vector<core::CallDue>& due, core::DistanceUnit unit);

/// In the order of core::CallView::Show and ::Order.
QStringList showNames();
QStringList orderNames();

} // namespace milehold::ui
