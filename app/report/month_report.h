// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/report/claims.h"
#include "core/report/owners_report.h"
#include "core/result.h"
#include "core/shop/settings.h"

#include <QByteArray>

#include <chrono>
#include <memory>
#include <span>
#include <vector>

namespace milehold::storage {
class Shop;
}

namespace milehold::ui {
class ReportPage;
}

namespace milehold::app {

/// The owner's month with the settings that its page is worded by.
struct MonthReport {
    core::OwnersReport report;
    core::ShopSettings settings;
    std::vector<core::ClaimRow> claims; ///< those that are open, and those concluded of the month's comebacks
};

/// What a month's report needs beyond lives, shelf and settings.
struct MonthRecords {
    std::vector<core::Job> jobs;      ///< delivered in the month, or written up in it as a comeback
    std::vector<core::Job> claimJobs; ///< with a claim
};
/// On the database's thread.
core::Result<MonthRecords> readMonthRecords(storage::Shop& shop, std::chrono::year_month month);
/// Pure; meant for a worker thread.
core::Result<MonthReport> makeMonthReport(std::span<const core::LifeRecord> lives, const core::Shelf& shelf,
                                          const core::ShopSettings& settings, const MonthRecords& records,
                                          std::chrono::year_month month, core::Date today);

/// Reads a month from the records; `today` is the data date, in the shop's own unit.
core::Result<MonthReport> readMonthReport(storage::Shop& shop, std::chrono::year_month month,
                                          core::Date today);

/// The report as a PDF, A4 or Letter by the shop's unit. A QGuiApplication must exist.
/// Errors: Internal when it cannot be drawn.
core::Result<QByteArray> monthReportPdf(const MonthReport& report);
/// The same as sheets to look at; on the window's thread.
std::shared_ptr<const ui::ReportPage> monthReportSheets(const MonthReport& report);

} // namespace milehold::app
