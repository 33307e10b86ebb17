// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/office/office_view.h"

#include <QString>

namespace milehold::ui {

/// How complete the evidence behind the whole view is, in one line: known and unseen distance, lost by
/// reason.
QString evidenceWords(const OfficeView& view);

/// Two groups at the mark in a sentence: the difference with its limits first, a p only when comebacks carry
/// one.
QString comparisonWords(const OfficeView& view);

/// How complete a group's evidence is: known and unseen distance, lost by reason, the three readings at the
/// mark.
QString groupEvidence(const OfficeGroup& group, const OfficeView& view);

/// The same with the group's name in front; blank when there is nothing to say.
QString readingsWords(const OfficeGroup& group, const OfficeView& view);

/// What the curves leave out or assume, as far as this view has it; blank when there is nothing to say.
QString cautionWords(const OfficeView& view);

} // namespace milehold::ui
