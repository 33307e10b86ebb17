// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/report/month_report.h"

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

} // namespace

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
    const auto jobs = jobsOf(shop, month);
    if (!jobs)
        return core::failureOf(jobs);
    core::ReportOptions options;
    options.month = month;
    options.unit = settings->unit;
    options.mark = settings->unit == core::DistanceUnit::Kilometres ? 60'000 : 40'000;
    options.dataDate = today;
    auto report = core::makeOwnersReport(*lives, *jobs, *shelf, *settings, options);
    if (!report)
        return core::failureOf(report);
    return MonthReport{std::move(*report), *settings};
}

core::Result<QByteArray> monthReportPdf(const MonthReport& report) {
    const auto paper =
        report.settings.unit == core::DistanceUnit::Kilometres ? QPageSize::A4 : QPageSize::Letter;
    const ui::ReportPage page({report.report, report.settings, ui::reportChart(report.report)}, paper);
    QBuffer buffer;
    buffer.open(QIODevice::WriteOnly);
    if (!ui::writePdf(page.flow(), paper, buffer, page.title()))
        return core::fail(core::ErrorCode::Internal, "the report cannot be drawn");
    return buffer.data();
}

} // namespace milehold::app
