// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/charts/curve_chart.h"

#include "ui/charts/curve_frame.h"
#include "ui/charts/curve_words.h"
#include "ui/theme/chart_palette.h"
#include "ui/theme/paint.h"
#include "ui/theme/theme.h"

#include <QApplication>
#include <QClipboard>
#include <QKeyEvent>
#include <QMouseEvent>
#include <QPainter>
#include <QPicture>

// The only file that includes it: it costs several seconds wherever it is read.
#include <qcustomplot.h>

#include <algorithm>
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

/// A step function given by its value from each mileage on, cut to [from, to]. The cut ends lie on the
/// function.
Points cutSteps(const std::vector<double>& miles, const std::vector<double>& values, std::size_t begin,
                std::size_t end, std::optional<double> before, double from, double to) {
    Points points;
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
        points.add(miles[i], values[i]);
        lastX = miles[i];
        value = values[i];
    }
    if (value && !lastX)
        points.add(from, *value);
    if (value && !points.x.isEmpty() && points.x.last() < to)
        points.add(to, *value);
    return points;
}

} // namespace

class CurveChart::Impl {
public:
    CurveData data;
    CurveView view;
    std::optional<Scheme> scheme;
    QCustomPlot plot; // never shown: it draws the lines and bands for us
    QPixmap lines;
    bool stale = true;

    Impl() {
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

    /// Everything lies inside the ring that shows the keyboard.
    CurveFrame frameIn(const QWidget* widget) const {
        return CurveFrame(data, view, QRectF(widget->rect()).adjusted(8, 8, -8, -8), false);
    }

    Tokens tokensFor(const QWidget* widget) const {
        if (scheme)
            return ui::tokensFor(*scheme);
        Tokens tokens = theme::tokensOf(widget);
        // On a card or on the bare window: names and faint lines are mixed with what they stand on.
        tokens.surface = widget->palette().color(widget->backgroundRole());
        return tokens;
    }

    void addBand(const CurveSeries& s, double from, double to, const QColor& colour, double strength) {
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
        const Points low =
            cutSteps(s.miles, s.lower, s.limitsBegin, s.limitsEnd, before(s.lowerBeforeFirst), from, end);
        const Points high =
            cutSteps(s.miles, s.upper, s.limitsBegin, s.limitsEnd, before(s.upperBeforeFirst), from, end);
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
    void fill(const CurveFrame& frame, const Tokens& t) {
        plot.clearGraphs();
        // A little beyond the axes, so that a line at 100 % is not cut to half its width.
        const double padX = kPad / frame.plot.width() * (frame.x.to - frame.x.from);
        const double padY = kPad / frame.plot.height();
        plot.xAxis->setRange(frame.x.from - padX, frame.x.to + padX);
        plot.yAxis->setRange(-padY, 1 + padY);
        const bool many = data.series.size() > 3;
        if (view.limits) {
            for (std::size_t i = 0; i < data.series.size(); ++i) {
                const CurveSeries& s = data.series[i];
                const QColor colour = seriesLook(s.look, t.scheme).colour;
                const bool current = static_cast<int>(i) == view.current;
                // With many lines only the one in hand keeps its full band, or nothing could be read.
                const double strength = current ? 0.20 : many ? 0.06 : 0.15;
                const double faint = faintFrom(s, data.fewerThan);
                addBand(s, 0, faint, colour, strength);
                addBand(s, faint, s.longestWatched, colour, strength * 0.45);
            }
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
            Points solid = cutSteps(s.miles, s.survival, 0, s.miles.size(), 1.0, 0, faint);
            // A comeback at 0 miles falls straight down from 1.
            if (!s.miles.empty() && s.miles.front() <= 0) {
                solid.x.prepend(0);
                solid.y.prepend(1);
            }
            addLine(solid, pen, true);
            QPen faintPen = pen;
            faintPen.setColor(mixed(t.surface, look.colour, 0.45));
            addLine(cutSteps(s.miles, s.survival, 0, s.miles.size(), 1.0, faint, s.longestWatched), faintPen,
                    true);
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
        if (!view.limits)
            return;
        line(projection.lower, 1);
        line(projection.upper, 1);
    }

    void paint(QPainter& painter, const CurveFrame& frame, const Tokens& t, double ratio) {
        frame.paintUnder(painter, t);
        const int wide = static_cast<int>(std::lround(frame.plot.width() + 2 * kPad));
        const int high = static_cast<int>(std::lround(frame.plot.height() + 2 * kPad));
        if (wide > 0 && high > 0) {
            const QSize pixels = QSize(wide, high) * ratio;
            if (stale || lines.size() != pixels) {
                fill(frame, t);
                lines = plot.toPixmap(wide, high, ratio);
                lines.setDevicePixelRatio(ratio);
                stale = false;
            }
            painter.drawPixmap(frame.plot.topLeft() - QPointF(kPad, kPad), lines);
        }
        frame.paintOver(painter, t);
    }

    void paintVectors(QPainter& painter, const CurveFrame& frame, const Tokens& t) {
        frame.paintUnder(painter, t);
        fill(frame, t);
        QPicture picture;
        {
            QCPPainter recorder(&picture);
            recorder.setMode(QCPPainter::pmVectorized);
            recorder.setMode(QCPPainter::pmNoCaching);
            plot.toPainter(&recorder, static_cast<int>(std::lround(frame.plot.width() + 2 * kPad)),
                           static_cast<int>(std::lround(frame.plot.height() + 2 * kPad)));
        }
        painter.save();
        painter.translate(frame.plot.topLeft() - QPointF(kPad, kPad));
        // Playing a picture scales it by the ratio of the devices' resolutions; our rectangle is right
        // already.
        painter.scale(double(picture.logicalDpiX()) / painter.device()->logicalDpiX(),
                      double(picture.logicalDpiY()) / painter.device()->logicalDpiY());
        painter.drawPicture(QPointF(0, 0), picture);
        painter.restore();
        frame.paintOver(painter, t);
        stale = true;
    }
};

CurveChart::CurveChart(QWidget* parent) : QWidget(parent), impl_(std::make_unique<Impl>()) {
    setMouseTracking(true);
    setFocusPolicy(Qt::StrongFocus);
    setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Expanding);
    setAccessibleName(tr("Repairs still quiet, by distance since the repair"));
}

CurveChart::~CurveChart() = default;

void CurveChart::setData(CurveData data) {
    Impl& d = *impl_;
    d.data = std::move(data);
    d.stale = true;
    d.view.current = -1;
    d.view.readout.reset();
    setAccessibleDescription(d.data.series.empty() ? d.data.emptyText : spokenCurves(d.data, d.view.unit));
    update();
}

const CurveData& CurveChart::data() const {
    return impl_->data;
}

void CurveChart::setUnit(core::DistanceUnit unit) {
    impl_->view.unit = unit;
    impl_->stale = true;
    if (!impl_->data.series.empty())
        setAccessibleDescription(spokenCurves(impl_->data, unit));
    update();
}

core::DistanceUnit CurveChart::unit() const {
    return impl_->view.unit;
}

void CurveChart::setLimitsShown(bool shown) {
    impl_->view.limits = shown;
    impl_->stale = true;
    update();
}

void CurveChart::setWatchedShown(bool shown) {
    impl_->view.watched = shown;
    impl_->stale = true;
    update();
}

void CurveChart::setKeyShown(bool shown) {
    impl_->view.key = shown;
    impl_->stale = true;
    update();
}

void CurveChart::setMark(std::optional<double> miles, const QString& text) {
    impl_->view.mark = miles;
    impl_->view.markText = text;
    update();
}

void CurveChart::applyTheme(std::optional<Scheme> scheme) {
    impl_->scheme = scheme;
    impl_->stale = true;
    update();
}

void CurveChart::paintVector(QPainter& painter, const QRectF& rect) const {
    Impl& d = *impl_;
    const CurveView shown = d.view;
    d.view.readout.reset();
    d.view.current = -1;
    const CurveFrame frame(d.data, d.view, rect, true);
    d.paintVectors(painter, frame, ui::tokensFor(Scheme::Print));
    d.view = shown;
}

ChartTable CurveChart::asTable() const {
    const CurveFrame frame = impl_->frameIn(this);
    return curveTable(impl_->data, frame.marks, impl_->view.unit);
}

std::optional<double> CurveChart::readout() const {
    return impl_->view.readout;
}

void CurveChart::setReadout(std::optional<double> miles) {
    const CurveFrame frame = impl_->frameIn(this);
    if (miles)
        miles = std::clamp(*miles, 0.0, frame.x.to);
    if (miles == impl_->view.readout)
        return;
    impl_->view.readout = miles;
    update();
    emit readoutChanged();
}

QPointF CurveChart::pixelOf(double miles, double survival) const {
    const CurveFrame frame = impl_->frameIn(this);
    // The lines are drawn into whole pixels from the corner of their rectangle.
    return {frame.x.at(miles), frame.y.at(survival)};
}

void CurveChart::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    const Tokens t = impl_->tokensFor(this);
    if (impl_->data.series.empty()) {
        painter.setPen(t.inkSoft);
        painter.drawText(rect().adjusted(kMargin, kMargin, -kMargin, -kMargin),
                         Qt::AlignCenter | Qt::TextWordWrap, impl_->data.emptyText);
    } else {
        const CurveFrame frame = impl_->frameIn(this);
        impl_->paint(painter, frame, t, devicePixelRatioF());
        frame.paintReadout(painter, t);
    }
    if (hasFocus())
        paint::focusRing(painter, QRectF(rect()), t);
}

void CurveChart::resizeEvent(QResizeEvent*) {
    impl_->stale = true;
}

void CurveChart::mouseMoveEvent(QMouseEvent* event) {
    const CurveFrame frame = impl_->frameIn(this);
    const bool inside = frame.plot.contains(event->position());
    setReadout(inside ? std::optional(frame.x.valueAt(event->position().x())) : std::nullopt);
}

void CurveChart::mousePressEvent(QMouseEvent* event) {
    if (event->button() != Qt::LeftButton)
        return;
    const CurveFrame frame = impl_->frameIn(this);
    const auto click = [this](int series, double miles) {
        impl_->view.current = series;
        impl_->stale = true;
        update();
        emit seriesClicked(impl_->data.series[static_cast<std::size_t>(series)].id, miles);
    };
    for (const CurveFrame::KeyEntry& entry : frame.entries) {
        const CurveSeries& series = impl_->data.series[static_cast<std::size_t>(entry.series)];
        if (entry.rect.contains(event->position()))
            return click(entry.series, series.longestWatched);
    }
    if (!frame.plot.contains(event->position()))
        return;
    const double miles = frame.x.valueAt(event->position().x());
    int nearest = -1;
    double least = 14; // pixels
    for (std::size_t i = 0; i < impl_->data.series.size(); ++i) {
        const auto reading = readAt(impl_->data.series[i], miles, impl_->data.fewerThan);
        if (!reading)
            continue;
        const double away = std::abs(frame.y.at(reading->survival) - event->position().y());
        if (away < least) {
            least = away;
            nearest = static_cast<int>(i);
        }
    }
    if (nearest >= 0)
        click(nearest, miles);
}

void CurveChart::leaveEvent(QEvent*) {
    setReadout(std::nullopt);
}

void CurveChart::keyPressEvent(QKeyEvent* event) {
    const auto count = static_cast<int>(impl_->data.series.size());
    if (event->matches(QKeySequence::Copy)) {
        QApplication::clipboard()->setText(asTable().toText());
        return;
    }
    if (count == 0)
        return QWidget::keyPressEvent(event);
    const double step = unitFactor(impl_->view.unit, impl_->data.unit) *
                        (event->modifiers() & Qt::ShiftModifier ? 10'000.0 : 1'000.0);
    const double at = impl_->view.readout.value_or(0);
    const auto choose = [this](int series) {
        impl_->view.current = series;
        impl_->stale = true;
        if (!impl_->view.readout)
            setReadout(0.0);
        update();
    };
    // Stops lie on round distances, also after the pointer left the readout between them.
    const auto stop = [&](int by) { return (std::round(at / step) + by) * step; };
    switch (event->key()) {
    case Qt::Key_Left:
        return setReadout(stop(-1));
    case Qt::Key_Right:
        return setReadout(impl_->view.readout ? stop(1) : 0.0);
    case Qt::Key_Home:
        return setReadout(0.0);
    case Qt::Key_End:
        return setReadout(1e12);
    case Qt::Key_Down:
        return choose(impl_->view.current + 1 >= count ? 0 : impl_->view.current + 1);
    case Qt::Key_Up:
        return choose(impl_->view.current <= 0 ? count - 1 : impl_->view.current - 1);
    case Qt::Key_Return:
    case Qt::Key_Enter:
    case Qt::Key_Space:
        if (impl_->view.current < 0)
            choose(0);
        emit seriesClicked(impl_->data.series[static_cast<std::size_t>(impl_->view.current)].id, at);
        return;
    case Qt::Key_Escape:
        if (impl_->view.readout || impl_->view.current >= 0) {
            choose(-1);
            return setReadout(std::nullopt);
        }
        break;
    default:
        break;
    }
    QWidget::keyPressEvent(event);
}

void CurveChart::focusInEvent(QFocusEvent* event) {
    QWidget::focusInEvent(event);
    update();
}

void CurveChart::focusOutEvent(QFocusEvent* event) {
    QWidget::focusOutEvent(event);
    update();
}

void CurveChart::changeEvent(QEvent* event) {
    QWidget::changeEvent(event);
    if (event->type() == QEvent::PaletteChange || event->type() == QEvent::StyleChange) {
        impl_->stale = true;
        update();
    }
}

} // namespace milehold::ui
