// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/office/office_view.h"

#include <QByteArray>

#include <vector>

namespace milehold::ui {

/// The table beside the chart as RFC 4180, UTF-8, with full digits; what does not exist is blank.
QByteArray groupsCsv(const OfficeView& view);

/// Every step of the groups in these rows of the view.
QByteArray stepsCsv(const OfficeView& view, const std::vector<int>& rows);

} // namespace milehold::ui
