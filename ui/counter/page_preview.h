// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/counter/quote_page.h"

#include <QAbstractScrollArea>

namespace milehold::ui {

/// Sheets of paper under each other, as wide as there is room; the arrow and page keys scroll.
class PagePreview : public QAbstractScrollArea {
    Q_OBJECT
public:
    explicit PagePreview(QWidget* parent = nullptr);
    /// The page must outlive the preview or be replaced by setPage().
    void setPage(const QuotePage* page);
    QSize sizeHint() const override { return {560, 720}; }

protected:
    void paintEvent(QPaintEvent* event) override;
    void resizeEvent(QResizeEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;

private:
    double scale() const;
    double sheetStep() const;
    void updateBars();

    const QuotePage* page_ = nullptr;
};

} // namespace milehold::ui
