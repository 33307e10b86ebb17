// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/charts/curve_frame.h"

#include "ui/charts/curve_words.h"
#include "ui/theme/chart_palette.h"
#include "ui/theme/figures.h"
#include "ui/theme/paint.h"
#include "ui/theme/theme.h"
#include "ui/widgets/text.h"

#include <QPainter>
#include <QPainterPath>

#include <algorithm>
#include <cmath>

namespace milehold::ui {

namespace {

constexpr double kAxisHeight = 26;  // tick words
constexpr double kTitleHeight = 20; // axis names
constexpr double kTableRow = 19;
constexpr double kKeyRow = 22;
constexpr double kSample = 36;
constexpr double kLabelHeight = 18;

QFont smallFont(bool print) {
    return print ? theme::printFont(TextRole::Small) : theme::font(TextRole::Small);
}

QFont mediumFont(bool print) {
    QFont font = smallFont(print);
    font.setWeight(QFont::Medium);
    return font;
}

/// The name as it stands, or in two lines where it is wider than there is room; more than that is cut.
QStringList inLines(const QString& name, const QFontMetricsF& metrics, double room) {
    if (metrics.horizontalAdvance(name) <= room)
        return {name};
    qsizetype breakAt = -1; // behind as many words as fit
    for (qsizetype at = name.indexOf(u' '); at >= 0; at = name.indexOf(u' ', at + 1))
        if (metrics.horizontalAdvance(name.left(at)) <= room)
            breakAt = at;
    QStringList lines =
        breakAt < 0 ? QStringList{name} : QStringList{name.left(breakAt), name.mid(breakAt + 1)};
    lines.last() = metrics.elidedText(lines.last(), Qt::ElideRight, room);
    return lines;
}

double widest(const QStringList& lines, const QFontMetricsF& metrics) {
    double wide = 0;
    for (const QString& line : lines)
        wide = std::max(wide, metrics.horizontalAdvance(line));
    return wide;
}

double lastMile(const CurveData& data) {
    double last = 0;
    for (const CurveSeries& series : data.series) {
        last = std::max(last, series.longestWatched);
        if (series.projection && !series.projection->miles.empty())
            last = std::max(last, series.projection->miles.back());
    }
    return last;
}

QPointF baselineOf(const QRectF& rect, qsizetype lines, qsizetype line, const QFont& font) {
    const QFontMetricsF metrics(font);
    const double below = static_cast<double>(line) - static_cast<double>(lines - 1) / 2;
    return {rect.left(),
            rect.center().y() + below * metrics.lineSpacing() + (metrics.ascent() - metrics.descent()) / 2};
}

/// A seam of the ground around the letters, so that a line passing under them does not strike them through.
void paintSeam(QPainter& painter, const QStringList& lines, const QRectF& rect, const QColor& ground,
               bool onPaper) {
    const QFont font = painter.font();
    painter.setPen(ground);
    for (qsizetype line = 0; line < lines.size(); ++line) {
        const QPointF base = baselineOf(rect, lines.size(), line, font);
        if (onPaper) { // outlines: letters drawn again and again would be copied from the page as often
            QPainterPath letters;
            letters.addText(base, font, lines[line]);
            painter.strokePath(letters, QPen(ground, QFontMetricsF(font).lineSpacing() / 5, Qt::SolidLine,
                                             Qt::RoundCap, Qt::RoundJoin));
            continue;
        }
        // The letters a little aside in every direction, which costs a tenth of stroking outlines.
        for (const double away : {2.0, 1.0})
            for (int eighth = 0; eighth < 8; ++eighth)
                painter.drawText(base + away * QPointF(std::cos(eighth * M_PI_4), std::sin(eighth * M_PI_4)),
                                 lines[line]);
    }
}

} // namespace

void paintLineSample(QPainter& painter, const QPointF& from, const QPointF& to, int look, Scheme scheme) {
    const paint::Scope scope(painter);
    const SeriesLook series = seriesLook(look, scheme);
    QPen pen(series.colour, 2, Qt::SolidLine, Qt::FlatCap);
    if (!series.dash.isEmpty())
        pen.setDashPattern(series.dash);
    painter.setPen(pen);
    painter.drawLine(from, to);
}

CurveFrame::CurveFrame(const CurveData& data, const CurveView& view, const QRectF& rect, bool print)
    : data_(data), view_(view), print_(print) {
    toShown = unitFactor(data.unit, view.unit);
    const QFontMetricsF metrics(smallFont(print));
    layKey(rect);
    // Left: the words of the axis, and the names of the table's rows where there is room for them.
    nameWidth_ = 0;
    // Few lines are told apart by the key and the names at their ends; many need their names here too.
    if (view.watched && rect.width() >= 720 && data.series.size() > 4) {
        for (const CurveSeries& series : data.series) {
            nameWidth_ = std::max(nameWidth_, metrics.horizontalAdvance(series.name));
        }
        nameWidth_ = std::ceil(std::min(nameWidth_, rect.width() * (print ? 0.2 : 0.14)));
    }
    const double left = nameWidth_ > 0 ? nameWidth_ + kSample + 34 : view.watched ? kSample + 30 : 46.0;
    double right = 16;
    if (rect.width() >= 520) {
        for (const CurveSeries& series : data.series) {
            right = std::max(right, metrics.horizontalAdvance(series.name) + 22);
        }
        right = std::ceil(std::min(right, std::min(180.0, rect.width() * 0.2)));
    }
    const double rows = view.watched ? static_cast<double>(data.series.size()) * kTableRow + kTitleHeight : 0;
    const double bottom = kAxisHeight + kTitleHeight + rows + (view.watched ? 4 : 0);
    plot = QRectF(rect.left() + left, key.bottom() + kTitleHeight + 6, rect.width() - left - right, 0);
    plot.setBottom(std::max(plot.top() + 60, rect.bottom() - bottom));
    table = QRectF(rect.left(), plot.bottom() + kAxisHeight + kTitleHeight + 4, rect.width(), rows);

    const double last = lastMile(data);
    x = {0, last > 0 ? last : 1, plot.left(), plot.right(), false};
    y = {0, 1, plot.bottom(), plot.top(), false};
    const int most = std::max(2, static_cast<int>(plot.width() / 84) + 1);
    marks = niceTicks(0, x.to * toShown, most);
    layLabels();
}

void CurveFrame::layKey(const QRectF& rect) {
    key = QRectF(rect.left(), rect.top(), rect.width(), 0);
    if (!view_.key || data_.series.empty())
        return;
    const QFontMetricsF name(mediumFont(print_));
    const QFontMetricsF small(smallFont(print_));
    double left = rect.left();
    double top = rect.top();
    for (std::size_t i = 0; i < data_.series.size(); ++i) {
        const CurveSeries& series = data_.series[i];
        QString counts = keyWords(series, data_.unit, view_.unit);
        const double nameWide = std::min(name.horizontalAdvance(series.name), rect.width() * 0.6);
        double wide = kSample + 8 + nameWide + 8 + small.horizontalAdvance(counts);
        if (wide > rect.width()) {
            counts = shortKeyWords(series);
            wide = std::min(rect.width(), kSample + 8 + nameWide + 8 + small.horizontalAdvance(counts));
        }
        if (left > rect.left() && left + wide > rect.right()) {
            left = rect.left();
            top += kKeyRow;
        }
        entries.push_back({QRectF(left, top, wide, kKeyRow), static_cast<int>(i),
                           name.elidedText(series.name, Qt::ElideRight, nameWide + 1), counts});
        left += wide + 28;
    }
    key.setBottom(top + kKeyRow + 4);
}

void CurveFrame::layLabels() {
    const QFontMetricsF metrics(mediumFont(print_));
    const double rightEdge = plot.right() + std::max(0.0, table.right() - plot.right());
    std::vector<LineLabel> wanted;
    for (std::size_t i = 0; i < data_.series.size(); ++i) {
        const CurveSeries& series = data_.series[i];
        if (series.miles.empty())
            continue;
        QPointF end(x.at(series.longestWatched), y.at(series.survival.back()));
        if (series.projection && !series.projection->miles.empty() && !series.projection->survival.empty()) {
            end = QPointF(x.at(series.projection->miles.back()), y.at(series.projection->survival.back()));
        }
        const double room = rightEdge - end.x() - 9;
        const double whole = metrics.horizontalAdvance(series.name) + 2;
        const QStringList lines = inLines(series.name, metrics, std::min(room, 176.0));
        if (room < std::min(whole, 90.0)) {
            // No room past its end: under the end of the line, since a curve that falls was higher before.
            if (whole < plot.width() / 2)
                wanted.push_back(
                    {QRectF(std::min(end.x() - 2, rightEdge) - whole, end.y() + 2, whole, kLabelHeight),
                     static_cast<int>(i),
                     {series.name},
                     end,
                     true});
            continue;
        }
        const double high = kLabelHeight + static_cast<double>(lines.size() - 1) * metrics.lineSpacing();
        wanted.push_back({QRectF(end.x() + 7, end.y() - high / 2, widest(lines, metrics) + 2, high),
                          static_cast<int>(i), lines, end, false});
    }
    // From the top down, each below the one before where they would overlap.
    std::sort(wanted.begin(), wanted.end(),
              [](const LineLabel& a, const LineLabel& b) { return a.end.y() < b.end.y(); });
    const auto meets = [this](const LineLabel& label) {
        return std::any_of(labels.begin(), labels.end(), [&label](const LineLabel& placed) {
            return placed.rect.adjusted(-4, 0, 4, 0).intersects(label.rect);
        });
    };
    for (LineLabel label : wanted) {
        if (label.inside) {
            if (label.rect.bottom() < plot.bottom() && !meets(label))
                labels.push_back(label);
            continue;
        }
        bool moved = true;
        while (moved) {
            moved = false;
            for (const LineLabel& placed : labels) {
                if (placed.rect.adjusted(-4, 0, 4, 0).intersects(label.rect)) {
                    label.rect.moveTop(placed.rect.bottom());
                    moved = true;
                }
            }
        }
        const bool far = std::abs(label.rect.center().y() - label.end.y()) > 2.5 * kLabelHeight;
        const bool outside = label.rect.bottom() > plot.bottom() + 4 || label.rect.right() > rightEdge;
        if (!far && !outside)
            labels.push_back(label);
    }
}

std::vector<double> CurveFrame::tableMarks() const {
    if (marks.size() < 2)
        return marks;
    const QFont font = smallFont(print_);
    double widest = 0;
    for (const CurveSeries& series : data_.series) {
        widest = std::max(widest, figuresWidth(font, countText(watchedAt(series, 0))));
        widest = std::max(widest, figuresWidth(font, countText(series.lives)));
    }
    const double spacing = std::abs(x.at(marks[1] / toShown) - x.at(marks[0] / toShown));
    const auto every =
        static_cast<std::size_t>(std::max(1.0, std::ceil((widest + 10) / std::max(1.0, spacing))));
    std::vector<double> kept;
    for (std::size_t i = 0; i < marks.size(); i += every)
        kept.push_back(marks[i]);
    return kept;
}

void CurveFrame::paintUnder(QPainter& painter, const Tokens& t) const {
    const paint::Scope scope(painter);
    const QFont font = smallFont(print_);
    painter.setFont(font);
    // Shares.
    painter.setPen(t.inkSoft);
    painter.drawText(QRectF(table.left(), plot.top() - kTitleHeight - 6,
                            plot.width() + plot.left() - table.left(), kTitleHeight),
                     Qt::AlignLeft | Qt::AlignVCenter, chartWords(ChartWord::StillQuiet));
    const std::vector<double> shares =
        plot.height() < 160 ? std::vector<double>{0, 0.5, 1} : std::vector<double>{0, 0.2, 0.4, 0.6, 0.8, 1};
    for (const double share : shares) {
        const double at = y.at(share);
        painter.setPen(QPen(share == 0 ? t.outline : t.hairline, 1));
        painter.setRenderHint(QPainter::Antialiasing, print_);
        painter.drawLine(QPointF(plot.left(), std::round(at)), QPointF(plot.right(), std::round(at)));
        painter.setRenderHint(QPainter::Antialiasing);
        painter.setPen(t.inkSoft);
        drawFigures(painter, QRectF(plot.left() - 60, at - 9, 52, 18), Qt::AlignRight | Qt::AlignVCenter,
                    shareTickText(share, shares));
    }
    // Miles.
    for (const double mark : marks) {
        const double at = x.at(mark / toShown);
        painter.setPen(QPen(t.outline, 1));
        painter.drawLine(QPointF(std::round(at), plot.bottom()), QPointF(std::round(at), plot.bottom() + 4));
        painter.setPen(t.inkSoft);
        drawFigures(painter, QRectF(at - 60, plot.bottom() + 6, 120, 18), Qt::AlignHCenter | Qt::AlignVCenter,
                    tickText(mark, marks));
    }
    painter.drawText(QRectF(plot.left(), plot.bottom() + kAxisHeight - 2, plot.width(), kTitleHeight),
                     Qt::AlignRight | Qt::AlignVCenter,
                     chartWords(view_.unit == core::DistanceUnit::Miles ? ChartWord::MilesSince
                                                                        : ChartWord::KilometresSince));
    paintKey(painter, t);
    if (view_.watched)
        paintTable(painter, t);
}

void CurveFrame::paintKey(QPainter& painter, const Tokens& t) const {
    const QFont medium = mediumFont(print_);
    const QFontMetricsF metrics(medium);
    for (const KeyEntry& entry : entries) {
        const CurveSeries& series = data_.series[static_cast<std::size_t>(entry.series)];
        const double middle = std::round(entry.rect.center().y());
        if (entry.series == view_.current) {
            paint::box(painter, entry.rect.adjusted(-6, 0, 6, 0), t.accentSoft, QColor(), 4);
        }
        paintLineSample(painter, QPointF(entry.rect.left(), middle),
                        QPointF(entry.rect.left() + kSample, middle), series.look, t.scheme);
        double left = entry.rect.left() + kSample + 8;
        painter.setFont(medium);
        painter.setPen(t.ink);
        const double wide = metrics.horizontalAdvance(entry.name);
        painter.drawText(QRectF(left, entry.rect.top(), wide + 2, kKeyRow), Qt::AlignVCenter, entry.name);
        left += wide + 8;
        painter.setFont(smallFont(print_));
        painter.setPen(t.inkSoft);
        drawFigures(painter, QRectF(left, entry.rect.top(), entry.rect.right() - left + 1, kKeyRow),
                    Qt::AlignLeft | Qt::AlignVCenter, entry.counts);
    }
}

void CurveFrame::paintTable(QPainter& painter, const Tokens& t) const {
    painter.setFont(mediumFont(print_));
    painter.setPen(t.inkSoft);
    painter.drawText(QRectF(table.left(), table.top(), plot.left() - table.left() + 80, kTitleHeight),
                     Qt::AlignLeft | Qt::AlignVCenter, chartWords(ChartWord::Watched));
    painter.setPen(QPen(t.hairline, 1));
    const double title = painter.fontMetrics().horizontalAdvance(chartWords(ChartWord::Watched));
    const double line = std::round(table.top() + kTitleHeight / 2);
    painter.drawLine(QPointF(std::max(plot.left(), table.left() + title + 10), line),
                     QPointF(plot.right(), line));
    const std::vector<double> shown = tableMarks();
    const QFont font = smallFont(print_);
    const QFontMetricsF metrics(font);
    for (std::size_t i = 0; i < data_.series.size(); ++i) {
        const CurveSeries& series = data_.series[i];
        const QRectF row(table.left(), table.top() + kTitleHeight + static_cast<double>(i) * kTableRow,
                         table.width(), kTableRow);
        if (static_cast<int>(i) == view_.current)
            paint::box(painter, row.adjusted(0, 0, -(row.right() - plot.right()) + 12, 0), t.accentSoft,
                       QColor(), 4);
        const double middle = std::round(row.center().y());
        paintLineSample(painter, QPointF(row.left(), middle), QPointF(row.left() + kSample, middle),
                        series.look, t.scheme);
        painter.setFont(font);
        painter.setPen(t.ink);
        if (nameWidth_ > 0) {
            painter.drawText(QRectF(row.left() + kSample + 8, row.top(), nameWidth_ + 1, kTableRow),
                             Qt::AlignVCenter,
                             metrics.elidedText(series.name, Qt::ElideRight, nameWidth_ + 1));
        }
        for (const double mark : shown) {
            const double miles = mark / toShown;
            const double count = miles > series.longestWatched ? 0 : watchedAt(series, miles);
            painter.setPen(count < data_.fewerThan ? t.inkSoft : t.ink);
            drawFigures(painter, QRectF(x.at(miles) - 40, row.top(), 80, kTableRow),
                        Qt::AlignHCenter | Qt::AlignVCenter,
                        count > 0 ? countText(count) : QStringLiteral("–"));
        }
    }
}

void CurveFrame::paintOver(QPainter& painter, const Tokens& t) const {
    const paint::Scope scope(painter);
    if (view_.mark && *view_.mark <= x.to) {
        const double at = std::round(x.at(*view_.mark));
        QPen pen(t.inkSoft, 1);
        pen.setDashPattern({4, 3});
        painter.setPen(pen);
        painter.drawLine(QPointF(at, plot.top() - 4), QPointF(at, plot.bottom()));
        painter.setFont(smallFont(print_));
        const QFontMetricsF metrics(painter.font());
        const double wide = metrics.horizontalAdvance(view_.markText);
        const bool leftSide = at + wide + 10 > plot.right();
        painter.drawText(QRectF(leftSide ? at - wide - 6 : at + 5, plot.bottom() - 20, wide + 2, 16),
                         Qt::AlignVCenter, view_.markText);
    }
    painter.setFont(smallFont(print_));
    for (const CurveSeries& series : data_.series) {
        if (!series.projection || series.projection->miles.empty() || series.projection->survival.empty())
            continue;
        const QPointF at(x.at(series.projection->miles.front()), y.at(series.projection->survival.front()));
        painter.setPen(t.inkSoft);
        painter.drawText(QRectF(at.x() + 6, at.y() - 20, 120, 16), Qt::AlignLeft | Qt::AlignVCenter,
                         chartWords(ChartWord::Projection));
    }
    painter.setFont(mediumFont(print_));
    for (const LineLabel& label : labels) {
        const CurveSeries& series = data_.series[static_cast<std::size_t>(label.series)];
        const SeriesLook look = seriesLook(series.look, t.scheme);
        paintSeam(painter, label.lines, label.rect, t.surface, print_);
        if (!label.inside && std::abs(label.rect.center().y() - label.end.y()) > 3) {
            painter.setPen(QPen(t.outline, 1));
            painter.drawLine(label.end + QPointF(2, 0),
                             QPointF(label.rect.left() - 1, label.rect.center().y()));
        }
        painter.setPen(contrast(look.colour, t.surface) >= 4.5 ? look.colour : t.ink);
        for (qsizetype line = 0; line < label.lines.size(); ++line)
            painter.drawText(baselineOf(label.rect, label.lines.size(), line, painter.font()),
                             label.lines[line]);
    }
}

} // namespace milehold::ui
