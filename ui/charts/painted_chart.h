// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/charts/chart_table.h"
#include "ui/theme/tokens.h"

#include <QWidget>

namespace milehold::ui {

/// A small chart that one function paints, on screen and on paper alike. A row, bar or point can be pointed
/// at, reached with the arrows, and pressed to open the records behind it.
class PaintedChart : public QWidget {
    Q_OBJECT
public:
    explicit PaintedChart(QWidget* parent = nullptr);

    /// The whole chart as vectors, with the print theme.
    void paintVector(QPainter& painter, const QRectF& rect) const;
    virtual ChartTable asTable() const = 0;
    void setEmptyText(const QString& text);
    /// Number of the mark with the keyboard or under the pointer, -1 for none.
    int current() const { return current_; }

signals:
    void markClicked(const QString& id);

protected:
    /// Paints everything; `current` is the mark to bring out, -1 on paper.
    virtual void paintChart(QPainter& painter, const QRectF& rect, const Tokens& tokens,
                            int current) const = 0;
    virtual int markCount() const = 0;
    virtual QString markId(int mark) const = 0;
    /// One sentence about a mark, for readers and the tooltip.
    virtual QString markText(int mark) const = 0;
    /// The mark at a place of the widget, -1 for none.
    virtual int markAt(const QPointF& at) const = 0;

    /// Where the chart is painted on screen: inside the ring that shows the keyboard.
    QRectF contentRect() const { return QRectF(rect()).adjusted(8, 6, -8, -6); }
    void dataChanged();
    void paintEvent(QPaintEvent* event) override;
    void mouseMoveEvent(QMouseEvent* event) override;
    void mousePressEvent(QMouseEvent* event) override;
    void leaveEvent(QEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;
    void focusInEvent(QFocusEvent* event) override;
    void focusOutEvent(QFocusEvent* event) override;
    bool event(QEvent* event) override;

private:
    void setCurrent(int mark);

    QString emptyText_;
    int current_ = -1;
};

} // namespace milehold::ui
