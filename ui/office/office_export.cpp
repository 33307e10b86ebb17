// SPDX-License-Identifier: GPL-3.0-or-later
// What the Office shows, as the bytes of a file.
#include "ui/charts/curve_chart.h"
#include "ui/office/group_table.h"
#include "ui/office/office_room.h"
#include "ui/office/review_csv.h"
#include "ui/theme/tokens.h"

#include <QBuffer>
#include <QImage>
#include <QPainter>
#include <QPdfWriter>

namespace milehold::ui {

namespace {
constexpr QSizeF kChartPage(720, 440); // points, of an exported chart
}

QByteArray OfficeRoom::exported(Export what) const {
    if (!view_)
        return {};
    switch (what) {
    case Export::GroupsCsv:
        return groupsCsv(*view_);
    case Export::StepsCsv:
        return stepsCsv(*view_, table_->groups().shownRows());
    case Export::ChartPng:
    case Export::ChartPdf:
        break;
    }
    chart_->setKeyShown(true); // on its own the chart needs its key
    QByteArray bytes;
    QBuffer buffer(&bytes);
    buffer.open(QIODevice::WriteOnly);
    if (what == Export::ChartPng) {
        QImage image((kChartPage * 3).toSize(), QImage::Format_RGB32);
        image.fill(Qt::white);
        QPainter painter(&image);
        painter.scale(3, 3);
        chart_->paintVector(painter, QRectF(QPointF(), kChartPage).adjusted(kGap, kGap, -kGap, -kGap));
        painter.end();
        image.save(&buffer, "PNG");
        chart_->setKeyShown(false);
        return bytes;
    }
    QPdfWriter writer(&buffer);
    writer.setResolution(1200);
    writer.setPageSize(QPageSize(kChartPage, QPageSize::Point, QString(), QPageSize::ExactMatch));
    writer.setPageMargins(QMarginsF());
    writer.setTitle(tr("How long repairs last"));
    QPainter painter(&writer);
    painter.scale(1200 / 72.0, 1200 / 72.0);
    chart_->paintVector(painter, QRectF(QPointF(), kChartPage).adjusted(kGap, kGap, -kGap, -kGap));
    painter.end();
    chart_->setKeyShown(false);
    return bytes;
}

} // namespace milehold::ui
