// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/report/owners_report.h"
#include "core/result.h"
#include "core/shop/settings.h"

#include <QByteArray>

#include <chrono>

namespace milehold::storage {
class Shop;
}

namespace milehold::app {

/// The owner's month with the settings that its page is worded by.
struct MonthReport {
    core::OwnersReport report;
    core::ShopSettings settings;
};

/// Reads a month from the records; `today` is the data date, in the shop's own unit.
core::Result<MonthReport> readMonthReport(storage::Shop& shop, std::chrono::year_month month,
                                          core::Date today);

/// The report as a PDF, A4 or Letter by the shop's unit. A QGuiApplication must exist.
/// Errors: Internal when it cannot be drawn.
core::Result<QByteArray> monthReportPdf(const MonthReport& report);

} // namespace milehold::app
