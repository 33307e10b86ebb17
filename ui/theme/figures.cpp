// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/theme/figures.h"

#include <QFontMetricsF>
#include <QGlyphRun>
#include <QPaintEngine>
#include <QPainter>
#include <QRawFont>

#include <algorithm>

namespace milehold::ui {

namespace {

struct Run {
    QVector<quint32> glyphs;
    QVector<QPointF> positions;
    double width = 0;
};

bool isDigit(QChar c) {
    return c >= u'0' && c <= u'9';
}

/// False when a character has no glyph of its own in this font, or the script needs shaping.
bool layOut(const QRawFont& raw, const QString& text, Run& run) {
    if (!raw.isValid())
        return false;
    for (const QChar c : text) {
        if (c.isSurrogate() || c.unicode() >= 0x0300) {
            // Latin, digits, and the few signs that numbers are written with.
            const bool sign = c.unicode() >= 0x2000 && c.unicode() <= 0x22FF;
            if (!sign)
                return false;
        }
    }
    run.glyphs = raw.glyphIndexesForString(text);
    if (run.glyphs.size() != text.size() || run.glyphs.contains(0))
        return false;
    const QVector<QPointF> advances = raw.advancesForGlyphIndexes(run.glyphs);
    const QVector<quint32> digits = raw.glyphIndexesForString(QStringLiteral("0123456789"));
    double cell = 0;
    for (const QPointF& advance : raw.advancesForGlyphIndexes(digits))
        cell = std::max(cell, advance.x());
    run.positions.reserve(text.size());
    for (qsizetype i = 0; i < text.size(); ++i) {
        const double own = advances[i].x();
        const double taken = isDigit(text[i]) ? cell : own;
        run.positions.append(QPointF(run.width + (taken - own) / 2, 0));
        run.width += taken;
    }
    return true;
}

} // namespace

double figuresWidth(const QFont& font, const QString& text) {
    Run run;
    if (layOut(QRawFont::fromFont(font), text, run))
        return run.width;
    return QFontMetricsF(font).horizontalAdvance(text);
}

void drawFigures(QPainter& painter, const QRectF& rect, Qt::Alignment alignment, const QString& text) {
    const QFont font = painter.font();
    // In a PDF the gaps beside narrow digits would be read back as spaces.
    const bool raster = painter.paintEngine() && painter.paintEngine()->type() == QPaintEngine::Raster;
    const QRawFont raw = QRawFont::fromFont(font);
    Run run;
    if (!raster || !layOut(raw, text, run) || run.width > rect.width() + 0.5) {
        const QString elided = QFontMetricsF(font).elidedText(text, Qt::ElideRight, rect.width());
        painter.drawText(rect, static_cast<int>(alignment) | Qt::TextSingleLine, elided);
        return;
    }
    double x = rect.left();
    if (alignment & Qt::AlignRight)
        x = rect.right() - run.width;
    if (alignment & Qt::AlignHCenter)
        x = rect.center().x() - run.width / 2;
    double baseline = rect.top() + raw.ascent();
    if (alignment & Qt::AlignBottom)
        baseline = rect.bottom() - raw.descent();
    if (alignment & Qt::AlignVCenter)
        baseline = rect.center().y() + (raw.ascent() - raw.descent()) / 2;
    QGlyphRun glyphs;
    glyphs.setRawFont(raw);
    glyphs.setGlyphIndexes(run.glyphs);
    glyphs.setPositions(run.positions);
    painter.drawGlyphRun(QPointF(x, baseline), glyphs);
}

} // namespace milehold::ui
