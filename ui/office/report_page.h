// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/report/claims.h"
#include "core/report/owners_report.h"
#include "core/shop/settings.h"
#include "ui/counter/page_flow.h"

#include <QPageSize>

#include <functional>

class QIODevice;

namespace milehold::ui {

struct ReportPageContent {
    core::OwnersReport report;
    core::ShopSettings settings;
    /// Draws the curves of all paths for paper, with vectors, into a rectangle of points.
    std::function<void(QPainter& painter, const QRectF& rect)> chart;
    std::vector<core::ClaimRow> claims{}; ///< to suppliers, the most pressing first
};

/// The owner's month on paper: what was delivered, what came back and what it cost, how long each path lasts.
/// Black ink on white; lengths are points.
class ReportPage {
public:
    ReportPage(const ReportPageContent& content, QPageSize::PageSizeId paper);

    const PageFlow& flow() const { return flow_; }
    QString title() const { return title_; }

private:
    void addHead(const ReportPageContent& content);
    void addFigures(const ReportPageContent& content);
    void addPaths(const ReportPageContent& content);
    void addComebacks(const ReportPageContent& content);
    void addCosts(const ReportPageContent& content);
    void addClaims(const ReportPageContent& content);
    void addStale(const ReportPageContent& content);
    void addFoot(const ReportPageContent& content);

    QString title_;
    PageFlow flow_;
};

/// The curves of a report as a chart's painter; the chart lives as long as the function.
std::function<void(QPainter& painter, const QRectF& rect)> reportChart(const core::OwnersReport& report);

} // namespace milehold::ui
