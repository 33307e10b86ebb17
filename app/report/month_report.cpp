// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/report/month_report.h"

#include "storage/claim_store.h"
#include "storage/shop.h"
#include "ui/office/report_page.h"
#include "ui/paper/paper_device.h"

#include <QBuffer>

#include <limits>

namespace milehold::app {

namespace {

bool inMonth(const std::optional<core::Date>& date, std::chrono::year_month month) {
    return date && date->ok() && date->year() == month.year() && date->month() == month.month();
}

/// The jobs that a month's report lists: delivered in it, or written up in it as a comeback.
core::Result<std::vector<core::Job>> jobsOf(storage::Shop& shop, std::chrono::year_month month) {
    storage::JobFilter filter;
    filter.limit = std::numeric_limits<std::int32_t>::max();
    const auto rows = shop.jobs().rows(filter);
    if (!rows)
        return core::failureOf(rows);
    std::vector<core::Job> jobs;
    for (const auto& row : *rows) {
        if (row.voided ||
            !(inMonth(row.delivered, month) || (row.comebackOf && inMonth(row.writtenUp, month))))
            continue;
        auto job = shop.jobs().find(row.id);
        if (!job)
            return core::failureOf(job);
        jobs.push_back(std::move(*job));
    }
    return jobs;
}

QPageSize::PageSizeId paperOf(const MonthReport& report) {
    return report.settings.unit == core::DistanceUnit::Kilometres ? QPageSize::A4 : QPageSize::Letter;
}

} // namespace

core::Result<MonthRecords> readMonthRecords(storage::Shop& shop, std::chrono::year_month month) {
    auto jobs = jobsOf(shop, month);
    if (!jobs)
        return core::failureOf(jobs);
    auto claims = storage::ClaimStore(shop).all();
    if (!claims)
        return core::failureOf(claims);
    return MonthRecords{std::move(*jobs), std::move(*claims)};
}

core::Result<MonthReport> makeMonthReport(std::span<const core::LifeRecord> lives, const core::Shelf& shelf,
                                          const core::ShopSettings& settings, const MonthRecords& records,
                                          std::chrono::year_month month, core::Date today) {
    core::ReportOptions options;
    options.month = month;
    options.unit = settings.unit;
    options.mark = settings.unit == core::DistanceUnit::Kilometres ? 60'000 : 40'000;
    options.dataDate = today;
    auto report = core::makeOwnersReport(lives, records.jobs, shelf, settings, options);
    if (!report)
        return core::failureOf(report);
    std::vector<core::Job> listed;
    for (const core::Job& job : records.claimJobs)
        if (core::isOpen(job.claimState) || inMonth(job.writtenUp, month))
            listed.push_back(job);
    return MonthReport{std::move(*report), settings, core::claimsOf(listed, lives, today)};
}

core::Result<MonthReport> readMonthReport(storage::Shop& shop, std::chrono::year_month month,
                                          core::Date today) {
    const auto settings = shop.settings();
    if (!settings)
        return core::failureOf(settings);
    const auto shelf = shop.shelf().load();
    if (!shelf)
        return core::failureOf(shelf);
    const auto lives = shop.lives().records(today);
    if (!lives)
        return core::failureOf(lives);
    const auto records = readMonthRecords(shop, month);
    if (!records)
        return core::failureOf(records);
    return makeMonthReport(*lives, *shelf, *settings, *records, month, today);
}

std::shared_ptr<const ui::ReportPage> monthReportSheets(const MonthReport& report) {
    const ui::ReportPageContent content{report.report, report.settings, ui::reportChart(report.report),
                                        report.claims};
    return std::make_shared<const ui::ReportPage>(content, paperOf(report));
}

core::Result<QByteArray> monthReportPdf(const MonthReport& report) {
    const auto sheets = monthReportSheets(report);
    QBuffer buffer;
    buffer.open(QIODevice::WriteOnly);
    if (!ui::writePdf(sheets->flow(), paperOf(report), buffer, sheets->title()))
        return core::fail(core::ErrorCode::Internal, "the report cannot be drawn");
    return buffer.data();
}

} // namespace milehold::app
