// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/paper/paper_device.h"

#include <QPainter>
#include <QPdfWriter>
#include <QPrinter>

#include <algorithm>

namespace milehold::ui {

namespace {

constexpr int kDotsPerInch = 1200;
constexpr double kPointsPerInch = 72;

void paintSheet(const PageFlow& flow, QPainter& painter, int page, double scale) {
    painter.save();
    painter.scale(scale, scale);
    painter.setRenderHint(QPainter::Antialiasing);
    flow.paint(painter, page);
    painter.restore();
}

} // namespace

bool writePdf(const PageFlow& flow, QPageSize::PageSizeId paper, QIODevice& device, const QString& title) {
    QPdfWriter writer(&device);
    writer.setResolution(kDotsPerInch);
    writer.setPageSize(QPageSize(paper));
    writer.setPageMargins(QMarginsF(0, 0, 0, 0));
    writer.setTitle(title);
    writer.setCreator(QStringLiteral("Milehold %1").arg(QStringLiteral(MILEHOLD_VERSION)));
    QPainter painter;
    if (!painter.begin(&writer))
        return false;
    for (int page = 0; page < flow.pageCount(); ++page) {
        if (page > 0 && !writer.newPage())
            return false;
        paintSheet(flow, painter, page, kDotsPerInch / kPointsPerInch);
    }
    return painter.end();
}

bool printSheets(const PageFlow& flow, QPageSize::PageSizeId paper, QPrinter& printer) {
    printer.setPageSize(QPageSize(paper));
    printer.setFullPage(true);
    QPainter painter;
    if (!painter.begin(&printer))
        return false;
    const int first = printer.fromPage() > 0 ? printer.fromPage() - 1 : 0;
    const int last = printer.toPage() > 0 ? std::min(printer.toPage(), flow.pageCount()) : flow.pageCount();
    for (int page = first; page < last; ++page) {
        if (page > first && !printer.newPage())
            return false;
        paintSheet(flow, painter, page, printer.resolution() / kPointsPerInch);
    }
    return painter.end();
}

} // namespace milehold::ui
