// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/charts/curve_chart.h"

#include "ui/charts/curve_frame.h"
#include "ui/charts/curve_lines.h"
#include "ui/charts/curve_words.h"
#include "ui/theme/paint.h"
#include "ui/theme/theme.h"

#include <QApplication>
#include <QClipboard>
#include <QKeyEvent>
#include <QMouseEvent>
#include <QPainter>

#include <algorithm>
#include <cmath>

namespace milehold::ui {

class CurveChart::Impl {
public:
    CurveData data;
    CurveView view;
    CurveLines lines;

    /// Everything lies inside the ring that shows the keyboard.
    CurveFrame frameIn(const QWidget* widget) const {
        return CurveFrame(data, view, QRectF(widget->rect()).adjusted(8, 8, -8, -8), false);
    }

    Tokens tokensFor(const QWidget* widget) const {
        Tokens tokens = theme::tokensOf(widget);
        // On a card or on the bare window: names and faint lines are mixed with what they stand on.
        tokens.surface = widget->palette().color(widget->backgroundRole());
        return tokens;
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
    d.lines.setStale();
    d.view.current = -1;
    d.view.readout.reset();
    setAccessibleDescription(d.data.series.empty() ? d.data.emptyText : spokenCurves(d.data, d.view.unit));
    update();
}

const CurveData& CurveChart::data() const {
    return impl_->data;
}

void CurveChart::setUnit(core::DistanceUnit unit) {
    if (unit == impl_->view.unit)
        return;
    impl_->view.unit = unit;
    impl_->lines.setStale();
    if (!impl_->data.series.empty())
        setAccessibleDescription(spokenCurves(impl_->data, unit));
    update();
}

core::DistanceUnit CurveChart::unit() const {
    return impl_->view.unit;
}

void CurveChart::setWatchedShown(bool shown) {
    impl_->view.watched = shown;
    impl_->lines.setStale();
    update();
}

void CurveChart::setKeyShown(bool shown) {
    impl_->view.key = shown;
    impl_->lines.setStale();
    update();
}

void CurveChart::setMark(std::optional<double> miles, const QString& text) {
    impl_->view.mark = miles;
    impl_->view.markText = text;
    update();
}

void CurveChart::paintVector(QPainter& painter, const QRectF& rect) const {
    Impl& d = *impl_;
    const CurveView shown = d.view;
    d.view.readout.reset();
    d.view.current = -1;
    const CurveFrame frame(d.data, d.view, rect, true);
    const Tokens t = ui::tokensFor(Scheme::Print);
    frame.paintUnder(painter, t);
    d.lines.paintVectors(painter, d.data, d.view, frame, t);
    frame.paintOver(painter, t);
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
        frame.paintUnder(painter, t);
        impl_->lines.paint(painter, impl_->data, impl_->view, frame, t, devicePixelRatioF());
        frame.paintOver(painter, t);
        frame.paintReadout(painter, t);
    }
    if (hasFocus())
        paint::focusRing(painter, QRectF(rect()), t);
}

void CurveChart::resizeEvent(QResizeEvent*) {
    impl_->lines.setStale();
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
        impl_->lines.setStale();
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
        impl_->lines.setStale();
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
        impl_->lines.setStale();
        update();
    }
}

} // namespace milehold::ui
