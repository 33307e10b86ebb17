// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/job.h"
#include "core/shop/people.h"
#include "core/shop/vehicle.h"
#include "ui/bay/job_card.h"

namespace milehold::ui {

/// `base` with those members that a person changed: where `now`, read from the widgets, differs from `shown`,
/// read from the same widgets right after they showed `base`. A value that no widget can show exactly (a line
/// break in a one-line field, a name that the shelf does not know) thus comes back as it was until somebody
/// edits it.
core::Job mergeEdits(core::Job base, const core::Job& shown, const core::Job& now);
core::Vehicle mergeEdits(core::Vehicle base, const core::Vehicle& shown, const core::Vehicle& now);
core::Customer mergeEdits(core::Customer base, const core::Customer& shown, const core::Customer& now);
JobCard mergeEdits(JobCard base, const JobCard& shown, const JobCard& now);

} // namespace milehold::ui
