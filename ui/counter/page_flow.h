// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QColor>
#include <QFont>
#include <QRectF>
#include <QString>

#include <functional>
#include <vector>

class QPainter;

namespace milehold::ui {

/// How a text is set on paper.
struct PageText {
    int size = 10; ///< points
    bool strong = false;
    QColor ink = QColor(0x10, 0x10, 0x10);
    Qt::Alignment side = Qt::AlignLeft;
};

inline const QColor kPaperInk(0x10, 0x10, 0x10);
inline const QColor kPaperSoft(0x50, 0x50, 0x50);
inline const QColor kPaperLine(0xa0, 0xa0, 0xa0);

/// Sets blocks of a height known beforehand on sheets, one under the other; a block never breaks. Lengths are
/// points.
///
/// Text is laid out by design metrics (no hinting), so that a preview breaks its lines where paper does.
class PageFlow {
public:
    using Draw = std::function<void(QPainter& painter, const QRectF& rect)>;

    PageFlow(QSizeF sheet, double margin, double footHeight);

    /// Height that a wrapped text takes.
    static double textHeight(const QString& text, double width, const PageText& style);
    static double textWidth(const QString& text, const PageText& style);
    static void drawText(QPainter& painter, const QRectF& rect, const QString& text, const PageText& style);
    /// One line, elided where it does not fit.
    static void drawLine(QPainter& painter, const QRectF& rect, const QString& text, const PageText& style);
    static QFont fontOf(const PageText& style);

    QSizeF sheet() const { return sheet_; }
    double width() const { return sheet_.width() - 2 * margin_; }
    /// What is left of the sheet that is being filled.
    double room() const { return bottom_ - y_; }
    void add(double height, Draw draw);
    void addText(const QString& text, const PageText& style);
    void space(double height);
    void rule(double weight, const QColor& ink);
    /// Drawn at the bottom of every sheet, with its number from 1 and the count.
    void setFoot(std::function<void(QPainter& painter, const QRectF& rect, int page, int pages)> foot);

    int pageCount() const { return page_ + 1; }
    void paint(QPainter& painter, int page) const;

private:
    struct Block {
        int page = 0;
        QRectF rect;
        Draw draw;
    };

    QSizeF sheet_;
    double margin_;
    double footHeight_;
    double bottom_;
    double y_;
    int page_ = 0;
    std::vector<Block> blocks_;
    std::function<void(QPainter&, const QRectF&, int, int)> foot_;
};

} // namespace milehold::ui
