// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/office/office_view.h"

#include <string>
#include <vector>

namespace milehold::tests {

/// A group of lives as tests tell it: mileages at which repairs came back, and at which others were last
/// known quiet.
struct GroupStory {
    std::string name;
    std::vector<double> cameBack;
    std::vector<double> holding;
    double unseen = 0; ///< total
};

/// The view that the Office shows of these groups; the curves come from core.
ui::OfficeView officeView(const std::vector<GroupStory>& stories, double mark = 60'000);

/// `count` lives of one path, comebacks and quiet ones spread over `longest`, the same for the same seed.
GroupStory story(const std::string& name, int count, double shareBack, double longest, unsigned seed);

/// A job's key that is the same for the same number.
core::JobId jobId(unsigned number);

} // namespace milehold::tests
