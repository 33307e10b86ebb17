// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/office/office_view.h"

#include <QString>

#include <vector>

namespace milehold::ui {

/// The figures of a group that open their jobs.
enum class GroupFigure { Name, CameBack, Known, Half, AtMark };

/// Records behind something shown, and in words why these.
struct JobsBehind {
    std::vector<core::JobId> jobs;
    QString why; ///< "Phasers alone: 4 that came back"
};

JobsBehind jobsBehind(const OfficeGroup& group, GroupFigure figure, const OfficeView& view);

/// Behind one point of a curve: those that came back exactly there, else those still watched there.
JobsBehind jobsAtPoint(const OfficeGroup& group, double miles, const OfficeView& view);

/// The group's name, or the words for records that do not say.
QString groupName(const OfficeGroup& group);

} // namespace milehold::ui
