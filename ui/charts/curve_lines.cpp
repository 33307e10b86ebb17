// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/charts/curve_lines.h"

#include "ui/theme/chart_palette.h"

#include <QPainter>
#include <QPicture>

// The only file that includes it: it costs several seconds wherever it is read.
#include <qcustomplot.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace milehold::ui {

namespace {

constexpr double kPad = 3;

struct Points {
    QVector<double> x, y;
    void add(double px, double py) {
        if (!std::isfinite(px) || !std::isfinite(py))
            return;
        x.append(px);
        y.append(py);
    }
};

/// Of many steps within an eighth of a pixel only the first, the last, the lowest and the highest are drawn:
/// what lies between them could not be seen, and would keep the window from its events.
class ThinnedPoints {
public:
    ThinnedPoints(Points& into, double width) : into_(into), width_(width) {}

    void add(double x, double y) {
        if (count_ > 0 && x >= begin_ + width_)
            flush();
        if (count_++ == 0) {
            begin_ = x;
            kept_.fill({x, y});
        }
        if (y < kept_[Lowest].y)
            kept_[Lowest] = {x, y};
        if (y > kept_[Highest].y)
            kept_[Highest] = {x, y};
        kept_[Last] = {x, y};
    }
    void flush() {
        std::sort(kept_.begin(), kept_.end(), [](const Point& a, const Point& b) { return a.x < b.x; });
        for (std::size_t i = 0; count_ > 0 && i < kept_.size(); ++i)
            if (i == 0 || kept_[i].x != kept_[i - 1].x)
                into_.add(kept_[i].x, kept_[i].y);
        count_ = 0;
    }

private:
    struct Point {
        double x = 0, y = 0;
    };
    enum Kept { First, Lowest, Highest, Last, KeptCount };
    Points& into_;
    double width_;
    double begin_ = 0;
    std::size_t count_ = 0;
    std::array<Point, KeptCount> kept_;
};

constexpr std::size_t kManySteps = 20'000;

/// A step function given by its value from each mileage on, cut to [from, to]. The cut ends lie on the
/// function. `finest`: mileages closer than this cannot be told apart where many are drawn.
Points cutSteps(const SharedColumn& miles, const SharedColumn& values, std::size_t begin, std::size_t end,
                std::optional<double> before, double from, double to, double finest) {
    Points points;
    ThinnedPoints thinned(points, end - begin > kManySteps ? finest : 0);
    std::optional<double> value = before;
    std::optional<double> lastX;
    for (std::size_t i = begin; i < end && i < values.size(); ++i) {
        if (miles[i] > to)
            break;
        if (miles[i] <= from) {
            value = values[i];
            continue;
        }
        if (value && !lastX)
            points.add(from, *value);
        thinned.add(miles[i], values[i]);
        lastX = miles[i];
        value = values[i];
    }
    thinned.flush();
    if (value && !lastX)
        points.add(from, *value);
    if (value && !points.x.isEmpty() && points.x.last() < to)
        points.add(to, *value);
    return points;
}

} // namespace

class CurveLines::Plot {
public:
    QCustomPlot plot; // never shown
    QPixmap picture;
    bool stale = true;

    Plot() {
        plot.setAttribute(Qt::WA_DontShowOnScreen);
        plot.setBackground(Qt::NoBrush);
        plot.axisRect()->setAutoMargins(QCP::msNone);
        plot.axisRect()->setMargins(QMargins(0, 0, 0, 0));
        plot.axisRect()->setBackground(Qt::NoBrush);
        plot.plotLayout()->setMargins(QMargins(0, 0, 0, 0));
        for (QCPAxis* axis : {plot.xAxis, plot.yAxis, plot.xAxis2, plot.yAxis2}) {
            axis->setVisible(false);
            axis->grid()->setVisible(false);
        }
        plot.setNotAntialiasedElements(QCP::aeNone);
    }

    static int wide(const CurveFrame& frame) {
        return static_cast<int>(std::lround(frame.plot.width() + 2 * kPad));
    }
    static int high(const CurveFrame& frame) {
        return static_cast<int>(std::lround(frame.plot.height() + 2 * kPad));
    }

    void addBand(const CurveSeries& s, double from, double to, const QColor& colour, double strength,
                 double finest) {
        if (to <= from)
            return;
        const auto before = [&s](double value) {
            return s.limitsBeforeFirst ? std::optional(value) : std::nullopt;
        };
        // Past the last step that has limits they are not drawn.
        double end = to;
        if (s.limitsEnd < s.miles.size())
            end = std::min(end, s.miles[s.limitsEnd]);
        if (s.limitsEnd <= s.limitsBegin && !s.limitsBeforeFirst)
            return;
        const Points low = cutSteps(s.miles, s.lower, s.limitsBegin, s.limitsEnd, before(s.lowerBeforeFirst),
                                    from, end, finest);
        const Points high = cutSteps(s.miles, s.upper, s.limitsBegin, s.limitsEnd, before(s.upperBeforeFirst),
                                     from, end, finest);
        if (low.x.size() < 2 || high.x.size() < 2)
            return;
        QCPGraph* lower = plot.addGraph();
        QCPGraph* upper = plot.addGraph();
        lower->setData(low.x, low.y, true);
        upper->setData(high.x, high.y, true);
        for (QCPGraph* graph : {lower, upper}) {
            graph->setLineStyle(QCPGraph::lsStepLeft);
            graph->setPen(Qt::NoPen);
        }
        QColor fill = colour;
        fill.setAlphaF(static_cast<float>(strength));
        upper->setBrush(fill);
        upper->setChannelFillGraph(lower);
    }

    void addLine(const Points& points, const QPen& pen, bool steps) {
        if (points.x.size() < 2)
            return;
        QCPGraph* graph = plot.addGraph();
        graph->setData(points.x, points.y, true);
        graph->setLineStyle(steps ? QCPGraph::lsStepLeft : QCPGraph::lsLine);
        graph->setPen(pen);
    }

    /// Puts every series into the plot in the colours of a scheme.
    void fill(const CurveData& data, const CurveView& view, const CurveFrame& frame, const Tokens& t) {
        plot.clearGraphs();
        // A little beyond the axes, so that a line at 100 % is not cut to half its width.
        const double padX = kPad / frame.plot.width() * (frame.x.to - frame.x.from);
        const double padY = kPad / frame.plot.height();
        plot.xAxis->setRange(frame.x.from - padX, frame.x.to + padX);
        plot.yAxis->setRange(-padY, 1 + padY);
        const double finest = (frame.x.to - frame.x.from) / frame.plot.width() / 8;
        const bool many = data.series.size() > 3;
        for (std::size_t i = 0; i < data.series.size(); ++i) {
            const CurveSeries& s = data.series[i];
            const QColor colour = seriesLook(s.look, t.scheme).colour;
            const bool current = static_cast<int>(i) == view.current;
            // With many lines only the one in hand keeps its full band, or nothing could be read.
            const double strength = current ? 0.20 : many ? 0.06 : 0.15;
            const double faint = faintFrom(s, data.fewerThan);
            addBand(s, 0, faint, colour, strength, finest);
            addBand(s, faint, s.longestWatched, colour, strength * 0.45, finest);
        }
        for (std::size_t i = 0; i < data.series.size(); ++i) {
            const CurveSeries& s = data.series[i];
            if (s.miles.empty())
                continue;
            const SeriesLook look = seriesLook(s.look, t.scheme);
            QPen pen(look.colour, static_cast<int>(i) == view.current ? 3 : 2, Qt::SolidLine, Qt::FlatCap,
                     Qt::MiterJoin);
            if (!look.dash.isEmpty())
                pen.setDashPattern(look.dash);
            const double faint = faintFrom(s, data.fewerThan);
            Points solid = cutSteps(s.miles, s.survival, 0, s.miles.size(), 1.0, 0, faint, finest);
            // A comeback at 0 miles falls straight down from 1.
            if (!s.miles.empty() && s.miles.front() <= 0) {
                solid.x.prepend(0);
                solid.y.prepend(1);
            }
            addLine(solid, pen, true);
            QPen faintPen = pen;
            faintPen.setColor(mixed(t.surface, look.colour, 0.45));
            addLine(cutSteps(s.miles, s.survival, 0, s.miles.size(), 1.0, faint, s.longestWatched, finest),
                    faintPen, true);
            if (s.projection)
                addProjection(*s.projection, look.colour);
        }
    }

    void addProjection(const CurveProjection& projection, const QColor& colour) {
        const auto line = [&](const std::vector<double>& values, double width) {
            Points points;
            for (std::size_t i = 0; i < projection.miles.size() && i < values.size(); ++i) {
                points.add(projection.miles[i], values[i]);
            }
            QPen pen(colour, width, Qt::SolidLine, Qt::FlatCap);
            pen.setDashPattern(width > 1 ? QVector<double>{3, 3} : QVector<double>{2, 4});
            addLine(points, pen, false);
        };
        line(projection.survival, 2);
        line(projection.lower, 1);
        line(projection.upper, 1);
    }
};

CurveLines::CurveLines() : plot_(std::make_unique<Plot>()) {}

CurveLines::~CurveLines() = default;

void CurveLines::setStale() {
    plot_->stale = true;
}

void CurveLines::paint(QPainter& painter, const CurveData& data, const CurveView& view,
                       const CurveFrame& frame, const Tokens& tokens, double ratio) {
    const QSize size(Plot::wide(frame), Plot::high(frame));
    if (size.isEmpty())
        return;
    if (plot_->stale || plot_->picture.size() != size * ratio) {
        plot_->fill(data, view, frame, tokens);
        plot_->picture = plot_->plot.toPixmap(size.width(), size.height(), ratio);
        plot_->picture.setDevicePixelRatio(ratio);
        plot_->stale = false;
    }
    painter.drawPixmap(frame.plot.topLeft() - QPointF(kPad, kPad), plot_->picture);
}

void CurveLines::paintVectors(QPainter& painter, const CurveData& data, const CurveView& view,
                              const CurveFrame& frame, const Tokens& tokens) {
    plot_->fill(data, view, frame, tokens);
    plot_->stale = true; // the picture on screen has other colours
    QPicture picture;
    {
        QCPPainter recorder(&picture);
        recorder.setMode(QCPPainter::pmVectorized);
        recorder.setMode(QCPPainter::pmNoCaching);
        plot_->plot.toPainter(&recorder, Plot::wide(frame), Plot::high(frame));
    }
    painter.save();
    painter.translate(frame.plot.topLeft() - QPointF(kPad, kPad));
    // Playing a picture scales it by the ratio of the devices' resolutions; our rectangle is right already.
    painter.scale(double(picture.logicalDpiX()) / painter.device()->logicalDpiX(),
                  double(picture.logicalDpiY()) / painter.device()->logicalDpiY());
    painter.drawPicture(QPointF(0, 0), picture);
    painter.restore();
}

} // namespace milehold::ui
