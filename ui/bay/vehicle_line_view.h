// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/bay/vehicle_line.h"

#include <QRectF>
#include <QWidget>

#include <vector>

namespace milehold::ui {

struct Tokens;

/// A vehicle's past drawn along its odometer: a tile for each job, a dot for each call, a bar for each life
/// that ends in the shape of its state. Under it one sentence: on the whole, or on the mark that is pointed
/// at or stepped to with Left and Right. A tap or Enter on a job opens it.
class VehicleLineView : public QWidget {
    Q_OBJECT
public:
    explicit VehicleLineView(QWidget* parent = nullptr);

    void setLine(VehicleLine line);
    void setUnit(core::DistanceUnit unit);
    /// The job whose sheet is open is drawn filled with the accent.
    void setOpenJob(core::JobId job);
    const VehicleLine& line() const { return line_; }
    /// The sentence under the line.
    QString caption() const;

    QSize sizeHint() const override;
    QSize minimumSizeHint() const override;

signals:
    void jobActivated(milehold::core::JobId job);

protected:
    void paintEvent(QPaintEvent* event) override;
    void mouseMoveEvent(QMouseEvent* event) override;
    void mouseReleaseEvent(QMouseEvent* event) override;
    void leaveEvent(QEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;
    void focusOutEvent(QFocusEvent* event) override;

private:
    double xOf(core::Distance at) const;
    int markAt(const QPointF& point) const;
    void setCurrent(int mark);
    void activate(int mark);
    QString sentenceOf(const LineMark& mark) const;
    QString summary() const;
    void paintBars(QPainter& painter, const Tokens& tokens) const;
    void paintMarks(QPainter& painter, const Tokens& tokens) const;
    void paintLabels(QPainter& painter, const Tokens& tokens) const;

    VehicleLine line_;
    core::DistanceUnit unit_ = core::DistanceUnit::Miles;
    core::JobId open_;
    int current_ = -1;
};

} // namespace milehold::ui
