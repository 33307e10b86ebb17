// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/bay/vehicle_line_view.h"

#include "ui/theme/figures.h"
#include "ui/theme/paint.h"
#include "ui/theme/theme.h"
#include "ui/widgets/status.h"
#include "ui/widgets/text.h"
#include "ui/words/labels.h"

#include <QKeyEvent>
#include <QMouseEvent>
#include <QPainter>

#include <algorithm>
#include <cmath>

namespace milehold::ui {
namespace {

constexpr double kSide = 28; ///< left and right of the line
constexpr double kLabelsAt = 0;
constexpr double kLineAt = 30;
constexpr double kFiguresAt = 42;
constexpr double kCaptionAt = 60;
constexpr double kTile = 14;
constexpr double kReach = 14; ///< how near a finger must come

bool isJob(const LineMark& mark) {
    return mark.kind != LineMark::Kind::Call && mark.kind != LineMark::Kind::Reading;
}

QColor colourOf(core::LifeState state, const Tokens& tokens) {
    switch (state) {
    case core::LifeState::CameBack:
    case core::LifeState::NeverHeld:
        return tokens.dangerText;
    case core::LifeState::Holding:
        return tokens.accentText;
    case core::LifeState::LostSight:
    case core::LifeState::EndedOtherwise:
        break;
    }
    return tokens.inkSoft;
}

} // namespace

VehicleLineView::VehicleLineView(QWidget* parent) : QWidget(parent) {
    setMouseTracking(true);
    setFocusPolicy(Qt::StrongFocus);
    setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
    setAccessibleName(tr("This vehicle's past"));
}

void VehicleLineView::setLine(VehicleLine line) {
    line_ = std::move(line);
    current_ = -1;
    setFocusPolicy(line_.empty() ? Qt::NoFocus : Qt::StrongFocus);
    setAccessibleDescription(caption());
    update();
}

void VehicleLineView::setUnit(core::DistanceUnit unit) {
    unit_ = unit;
    update();
}

void VehicleLineView::setOpenJob(core::JobId job) {
    open_ = job;
    update();
}

QSize VehicleLineView::sizeHint() const {
    return {560, 80};
}

QSize VehicleLineView::minimumSizeHint() const {
    return {240, 80};
}

double VehicleLineView::xOf(core::Distance at) const {
    const double room = std::max(1.0, width() - 2 * kSide);
    const double span = static_cast<double>((line_.last - line_.first).metres());
    if (span <= 0)
        return kSide + room / 2;
    return kSide + room * static_cast<double>((at - line_.first).metres()) / span;
}

int VehicleLineView::markAt(const QPointF& point) const {
    if (point.y() > kCaptionAt)
        return -1;
    int nearest = -1;
    double best = kReach;
    for (std::size_t i = 0; i < line_.marks.size(); ++i) {
        // A job under the finger wins over the calls around it.
        const double away = std::abs(xOf(line_.marks[i].at) - point.x()) - (isJob(line_.marks[i]) ? 4 : 0);
        if (away < best) {
            best = away;
            nearest = static_cast<int>(i);
        }
    }
    return nearest;
}

void VehicleLineView::setCurrent(int mark) {
    if (mark == current_)
        return;
    current_ = mark;
    setAccessibleDescription(caption());
    setCursor(mark >= 0 && line_.marks[std::size_t(mark)].kind != LineMark::Kind::Reading
                  ? Qt::PointingHandCursor
                  : Qt::ArrowCursor);
    update();
}

void VehicleLineView::activate(int mark) {
    if (mark < 0)
        return;
    const LineMark& chosen = line_.marks[std::size_t(mark)];
    if (!chosen.job.isNull())
        emit jobActivated(chosen.job);
}

QString VehicleLineView::sentenceOf(const LineMark& mark) const {
    const QString day = dateText(mark.date);
    const QString at = distanceText(mark.at, unit_);
    switch (mark.kind) {
    case LineMark::Kind::Call:
        return mark.measured ? tr("Call %1: %2 at %3").arg(day, word(mark.outcome).toLower(), at)
                             : tr("Call %1: %2").arg(day, word(mark.outcome).toLower());
    case LineMark::Kind::Reading:
        return tr("Odometer %1: %2").arg(day, at);
    case LineMark::Kind::Visit:
        return tr("Job %1, %2: a visit for something else at %3").arg(mark.number).arg(day, at);
    case LineMark::Kind::Elsewhere:
        return tr("Job %1, %2: repaired elsewhere at %3").arg(mark.number).arg(day, at);
    case LineMark::Kind::Repair:
        break;
    }
    if (mark.inWork)
        return tr("Job %1, written up %2 at %3: in work").arg(mark.number).arg(day, at);
    const auto bar = std::find_if(line_.bars.begin(), line_.bars.end(),
                                  [&](const LineBar& candidate) { return candidate.job == mark.job; });
    if (bar == line_.bars.end())
        return tr("Job %1, %2 at %3").arg(mark.number).arg(day, at);
    return tr("Job %1, %2 at %3: %4 for %5")
        .arg(mark.number)
        .arg(day, at, word(bar->state).toLower(), distanceText(bar->known - bar->from, unit_));
}

QString VehicleLineView::summary() const {
    if (line_.empty())
        return tr("Nothing on record yet: this is the vehicle's first job here.");
    const auto jobs = std::count_if(line_.marks.begin(), line_.marks.end(), isJob);
    const auto calls = std::count_if(line_.marks.begin(), line_.marks.end(),
                                     [](const LineMark& mark) { return mark.kind == LineMark::Kind::Call; });
    QStringList parts;
    parts << (jobs == 1 ? tr("1 job") : tr("%1 jobs").arg(jobs));
    if (calls > 0)
        parts << (calls == 1 ? tr("1 call") : tr("%1 calls").arg(calls));
    if (!line_.bars.empty()) {
        const LineBar& last = line_.bars.back();
        QString state = word(last.state).toLower();
        if (last.state != core::LifeState::NeverHeld)
            state = tr("%1 %2 on").arg(state, distanceText(last.known - last.from, unit_));
        if (last.unseen > last.known)
            state = tr("%1, about %2 more unseen").arg(state, distanceText(last.unseen - last.known, unit_));
        parts << tr("last repair %1").arg(state);
    }
    return parts.join(QStringLiteral(" · "));
}

QString VehicleLineView::caption() const {
    return current_ >= 0 ? sentenceOf(line_.marks[std::size_t(current_)]) : summary();
}

void VehicleLineView::paintBars(QPainter& painter, const Tokens& tokens) const {
    for (const auto& bar : line_.bars) {
        const QColor colour = colourOf(bar.state, tokens);
        painter.setPen(QPen(colour, 4, Qt::SolidLine, Qt::FlatCap));
        painter.drawLine(QPointF(xOf(bar.from), kLineAt), QPointF(xOf(bar.known), kLineAt));
        const core::Distance end = std::max(bar.until, bar.unseen);
        if (end > bar.known) {
            painter.setPen(QPen(colour, 2, Qt::DotLine, Qt::FlatCap));
            painter.drawLine(QPointF(xOf(bar.known), kLineAt), QPointF(xOf(end), kLineAt));
        }
    }
}

void VehicleLineView::paintMarks(QPainter& painter, const Tokens& tokens) const {
    for (std::size_t i = 0; i < line_.marks.size(); ++i) {
        const LineMark& mark = line_.marks[i];
        const QPointF at(xOf(mark.at), kLineAt);
        const bool pointed = static_cast<int>(i) == current_;
        if (mark.kind == LineMark::Kind::Reading) {
            painter.setPen(QPen(pointed ? tokens.ink : tokens.inkSoft, 1));
            painter.drawLine(at + QPointF(0, -5), at + QPointF(0, 5));
        } else if (mark.kind == LineMark::Kind::Call) {
            const bool noise = mark.outcome == core::FollowUpOutcome::NoiseBack;
            const bool heard = noise || mark.outcome == core::FollowUpOutcome::Quiet;
            const QColor colour = noise ? tokens.dangerText : tokens.inkSoft;
            painter.setPen(QPen(colour, 1.5));
            painter.setBrush(heard ? colour : tokens.surface);
            painter.drawEllipse(at, 3.5, 3.5);
        }
    }
    for (const auto& bar : line_.bars)
        paintStatusShape(painter, QRectF(xOf(bar.known) - 6, kLineAt - 6, 12, 12), statusOf(bar.state).shape,
                         colourOf(bar.state, tokens));
    for (std::size_t i = 0; i < line_.marks.size(); ++i) {
        const LineMark& mark = line_.marks[i];
        if (!isJob(mark))
            continue;
        const QPointF at(xOf(mark.at), kLineAt);
        const double half = mark.kind == LineMark::Kind::Repair ? kTile / 2 : kTile / 2 - 2;
        const QRectF tile(at - QPointF(half, half), QSizeF(2 * half, 2 * half));
        const bool open = mark.job == open_;
        const QColor line = mark.inWork ? tokens.amber : open ? tokens.accentText : tokens.ink;
        const bool filled = mark.kind == LineMark::Kind::Repair && !mark.inWork;
        paint::box(painter, tile, open ? tokens.accent : filled ? tokens.ink : tokens.surface, line, 3, 2);
        if (mark.kind == LineMark::Kind::Elsewhere) {
            painter.setPen(QPen(line, 1.5));
            painter.drawLine(tile.bottomLeft() + QPointF(3, -3), tile.topRight() + QPointF(-3, 3));
        }
        if (static_cast<int>(i) == current_)
            paint::focusRing(painter, tile.adjusted(-4, -4, 4, 4), tokens, 5);
    }
}

void VehicleLineView::paintLabels(QPainter& painter, const Tokens& tokens) const {
    // Labels that would run into one already placed are left out; the caption still tells them.
    const QFont small = theme::font(TextRole::Small);
    painter.setFont(small);
    std::vector<QRectF> taken;
    const auto place = [&](double x, double y, const QString& label, const QColor& colour) {
        const double wide = figuresWidth(small, label);
        const double left = std::clamp(x - wide / 2, 0.0, std::max(0.0, width() - wide));
        const QRectF rect(left, y, wide, 16);
        for (const auto& other : taken)
            if (other.adjusted(-8, 0, 8, 0).intersects(rect))
                return;
        taken.push_back(rect);
        painter.setPen(colour);
        drawFigures(painter, rect.adjusted(-1, 0, 1, 0), Qt::AlignCenter, label);
    };
    for (const bool openOnly : {true, false}) {
        for (auto mark = line_.marks.rbegin(); mark != line_.marks.rend(); ++mark) {
            if (!isJob(*mark) || (mark->job == open_) != openOnly)
                continue;
            place(xOf(mark->at), kLabelsAt,
                  mark->number > 0 ? tr("Job %1").arg(mark->number) : tr("This job"),
                  openOnly ? tokens.accentText : tokens.ink);
            place(xOf(mark->at), kFiguresAt, countText(double(mark->at.whole(unit_))), tokens.inkSoft);
        }
    }
    if (!line_.empty()) {
        place(xOf(line_.first), kFiguresAt, countText(double(line_.first.whole(unit_))), tokens.inkSoft);
        place(xOf(line_.last), kFiguresAt, countText(double(line_.last.whole(unit_))), tokens.inkSoft);
    }
    for (auto bar = line_.bars.rbegin(); bar != line_.bars.rend(); ++bar)
        place((xOf(bar->from) + xOf(bar->known)) / 2, kLabelsAt, word(bar->state),
              colourOf(bar->state, tokens));
}

void VehicleLineView::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    const Tokens& tokens = theme::tokensOf(this);
    const paint::Scope scope(painter);
    if (!line_.empty()) {
        painter.setPen(QPen(tokens.outline, 1));
        painter.drawLine(QPointF(kSide / 2, kLineAt), QPointF(width() - kSide / 2, kLineAt));
        paintBars(painter, tokens);
        paintMarks(painter, tokens);
        paintLabels(painter, tokens);
    }
    painter.setFont(theme::font(TextRole::Small));
    painter.setPen(tokens.inkSoft);
    const QRectF under(0, line_.empty() ? 0 : kCaptionAt, width(),
                       line_.empty() ? height() : height() - kCaptionAt);
    drawFigures(painter, under, Qt::AlignLeft | Qt::AlignVCenter, caption());
    if (hasFocus() && current_ < 0)
        paint::focusRing(painter, QRectF(rect()), tokens);
}

void VehicleLineView::mouseMoveEvent(QMouseEvent* event) {
    setCurrent(markAt(event->position()));
}

void VehicleLineView::mouseReleaseEvent(QMouseEvent* event) {
    if (event->button() == Qt::LeftButton)
        activate(markAt(event->position()));
}

void VehicleLineView::leaveEvent(QEvent*) {
    setCurrent(-1);
}

void VehicleLineView::focusOutEvent(QFocusEvent* event) {
    setCurrent(-1);
    QWidget::focusOutEvent(event);
}

void VehicleLineView::keyPressEvent(QKeyEvent* event) {
    const int last = static_cast<int>(line_.marks.size()) - 1;
    switch (event->key()) {
    case Qt::Key_Left:
        setCurrent(current_ < 0 ? last : std::max(0, current_ - 1));
        return;
    case Qt::Key_Right:
        setCurrent(current_ < 0 ? last : std::min(last, current_ + 1));
        return;
    case Qt::Key_Return:
    case Qt::Key_Enter:
        if (current_ >= 0) {
            activate(current_);
            return;
        }
        break;
    default:
        break;
    }
    QWidget::keyPressEvent(event);
}

} // namespace milehold::ui
