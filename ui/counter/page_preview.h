// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/counter/page_flow.h"

#include <QAbstractScrollArea>

namespace milehold::ui {

/// Sheets of paper under each other, as wide as there is room; the arrow and page keys scroll.
class PagePreview : public QAbstractScrollArea {
    Q_OBJECT
public:
    explicit PagePreview(QWidget* parent = nullptr);
    /// The sheets must outlive the preview or be replaced.
    void setSheets(const PageFlow* sheets);
    QSize sizeHint() const override { return {560, 720}; }

protected:
    void paintEvent(QPaintEvent* event) override;
    void resizeEvent(QResizeEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;

private:
    double scale() const;
    double sheetStep() const;
    void updateBars();

    const PageFlow* sheets_ = nullptr;
};

} // namespace milehold::ui
