// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/charts/forest_plot.h"

#include "ui/charts/axis.h"
#include "ui/theme/figures.h"
#include "ui/theme/paint.h"
#include "ui/theme/theme.h"

#include <QLocale>
#include <QPainter>

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

namespace milehold::ui {

namespace {

constexpr double kRow = 28;
constexpr double kHead = 26;
constexpr double kFoot = 48;

QFont smallFont(const Tokens& t) {
    return t.scheme == Scheme::Print ? theme::printFont(TextRole::Small) : theme::font(TextRole::Small);
}

/// The rows' columns: name, counts, the drawing, figures.
struct Columns {
    double name, counts, left, right, figures;
};

Columns columnsOf(const ForestData& data, const QRectF& rect, const std::vector<QString>& figures,
                  const QFont& font) {
    const QFontMetricsF metrics(font);
    double name = 60;
    double counts = 0;
    double wide = metrics.horizontalAdvance(data.estimateName);
    for (std::size_t i = 0; i < data.rows.size(); ++i) {
        name = std::max(name, metrics.horizontalAdvance(data.rows[i].name) * 1.08 + 4);
        counts = std::max(counts, figuresWidth(font, data.rows[i].counts));
        wide = std::max(wide, figuresWidth(font, figures[i]));
    }
    name = std::min(name, rect.width() * 0.34);
    Columns c{};
    c.name = rect.left();
    c.counts = rect.left() + name + 12 + counts;
    c.figures = rect.right() - wide;
    c.left = c.counts + (counts > 0 ? 24 : 12);
    c.right = std::max(c.left + 40, c.figures - 24);
    return c;
}

/// Range that holds estimates and limits; an endless limit does not stretch it.
Axis axisOf(const ForestData& data) {
    double low = data.reference;
    double high = data.reference;
    for (const ForestRow& row : data.rows) {
        if (!row.estimate)
            continue;
        for (const auto& value : {row.estimate, row.lower, row.upper}) {
            if (!value || !std::isfinite(*value) || (data.logarithmic && *value <= 0))
                continue;
            // A limit far beyond every estimate is cut off with an arrow.
            const double bound = data.logarithmic ? 30.0 : 1e18;
            low = std::min(low, std::max(*value, data.logarithmic ? *row.estimate / bound : *value));
            high = std::max(high, std::min(*value, data.logarithmic ? *row.estimate * bound : *value));
        }
    }
    Axis axis;
    axis.logarithmic = data.logarithmic;
    if (data.logarithmic) {
        axis.from = low / 1.25;
        axis.to = high * 1.25;
    } else {
        const double pad = std::max((high - low) * 0.06, 1e-9);
        axis.from = data.percent ? std::max(0.0, low - pad) : low - pad;
        axis.to = data.percent ? std::min(1.0, high + pad) : high + pad;
    }
    return axis;
}

QString number(double value, const ForestData& data) {
    if (data.percent)
        return QLocale().toString(value * 100, 'f', 0);
    return QLocale().toString(value, 'f', data.decimals);
}

/// One painting of a plot, part by part.
class ForestPainter {
public:
    ForestPainter(QPainter& painter, const QRectF& rect, const Tokens& t, const ForestData& data,
                  std::vector<QString> texts)
        : painter_(painter), rect_(rect), t_(t), data_(data), texts_(std::move(texts)), font_(smallFont(t)),
          metrics_(font_), columns_(columnsOf(data, rect, texts_, font_)), x_(axisOf(data)),
          bottom_(rect.top() + kHead + kRow * static_cast<double>(data.rows.size())) {
        x_.start = columns_.left;
        x_.end = columns_.right;
        for (const ForestRow& row : data.rows)
            heaviest_ = std::max(heaviest_, row.weight);
        painter_.setFont(font_);
    }
    void heads();
    void axis();
    void row(std::size_t i, bool current);

private:
    void rowWords(const ForestRow& row, const QString& text, const QRectF& line);
    void interval(const ForestRow& row, double y);
    void estimate(const ForestRow& row, double y);
    double reference() const { return std::round(x_.at(data_.reference)); }

    QPainter& painter_;
    const QRectF& rect_;
    const Tokens& t_;
    const ForestData& data_;
    const std::vector<QString> texts_;
    const QFont font_;
    const QFontMetricsF metrics_;
    const Columns columns_;
    Axis x_;
    const double bottom_;
    double heaviest_ = 0;
};

void ForestPainter::heads() {
    const Columns& c = columns_;
    painter_.setPen(t_.inkSoft);
    painter_.drawText(QRectF(c.figures - 40, rect_.top(), rect_.right() - c.figures + 40, kHead - 4),
                      Qt::AlignRight | Qt::AlignVCenter, data_.estimateName);
    if (data_.lowSide.isEmpty() && data_.highSide.isEmpty())
        return;
    const double low = reference() - c.left + 22;
    painter_.drawText(QRectF(c.left - 30, rect_.top(), low, kHead - 4), Qt::AlignRight | Qt::AlignVCenter,
                      metrics_.elidedText(data_.lowSide, Qt::ElideRight, low));
    const double high = c.right - reference() + 20;
    painter_.drawText(QRectF(reference() + 8, rect_.top(), high, kHead - 4), Qt::AlignLeft | Qt::AlignVCenter,
                      metrics_.elidedText(data_.highSide, Qt::ElideRight, high));
}

void ForestPainter::axis() {
    const Columns& c = columns_;
    const int most = std::max(2, static_cast<int>((c.right - c.left) / 44));
    const std::vector<double> ticks =
        data_.logarithmic ? logTicks(x_.from, x_.to, most) : niceTicks(x_.from, x_.to, most);
    for (const double tick : ticks) {
        const double at = std::round(x_.at(tick));
        painter_.setPen(QPen(t_.hairline, 1));
        painter_.drawLine(QPointF(at, rect_.top() + kHead), QPointF(at, bottom_));
        painter_.setPen(t_.inkSoft);
        const QString text = data_.percent       ? shareTickText(tick, ticks)
                             : data_.logarithmic ? QLocale().toString(tick, 'g', 3)
                                                 : tickText(tick, ticks);
        drawFigures(painter_, QRectF(at - 40, bottom_ + 5, 80, 16), Qt::AlignHCenter | Qt::AlignVCenter,
                    text);
    }
    // Under the drawing, wider than it when the name needs it.
    const double middle = (c.left + c.right) / 2;
    const double half = std::min(middle - rect_.left(), rect_.right() - middle);
    painter_.drawText(QRectF(middle - half, bottom_ + 24, 2 * half, 18), Qt::AlignHCenter | Qt::AlignVCenter,
                      metrics_.elidedText(data_.axisName, Qt::ElideRight, 2 * half));
    painter_.setPen(QPen(t_.inkSoft, 1.2));
    painter_.drawLine(QPointF(reference(), rect_.top() + kHead - 2), QPointF(reference(), bottom_));
}

void ForestPainter::row(std::size_t i, bool current) {
    const ForestRow& row = data_.rows[i];
    const QRectF line(rect_.left(), rect_.top() + kHead + kRow * static_cast<double>(i), rect_.width(), kRow);
    if (current && !row.heading)
        paint::box(painter_, line, t_.accentSoft, QColor(), 4);
    rowWords(row, texts_[i], line);
    if (row.heading || !row.estimate)
        return;
    const double y = std::round(line.center().y()) + 0.5;
    interval(row, y);
    estimate(row, y);
}

void ForestPainter::rowWords(const ForestRow& row, const QString& text, const QRectF& line) {
    const Columns& c = columns_;
    QFont nameFont = font_;
    if (row.heading || row.summary)
        nameFont.setWeight(QFont::DemiBold);
    const double indent = row.heading ? 0 : 8;
    const double room =
        c.counts - c.name - indent - (row.counts.isEmpty() ? 0 : figuresWidth(font_, row.counts) + 10);
    painter_.setFont(nameFont);
    painter_.setPen(t_.ink);
    painter_.drawText(QRectF(c.name + indent, line.top(), room, kRow), Qt::AlignVCenter,
                      QFontMetricsF(nameFont).elidedText(row.name, Qt::ElideRight, room));
    painter_.setFont(font_);
    if (row.heading)
        return;
    painter_.setPen(t_.inkSoft);
    drawFigures(painter_, QRectF(c.name, line.top(), c.counts - c.name, kRow),
                Qt::AlignRight | Qt::AlignVCenter, row.counts);
    painter_.setPen(row.estimate ? t_.ink : t_.inkSoft);
    drawFigures(painter_, QRectF(c.figures - 60, line.top(), rect_.right() - c.figures + 60, kRow),
                Qt::AlignRight | Qt::AlignVCenter, text);
}

/// The line between the limits: a stop at a limit, an arrow where it lies outside the drawing or nowhere.
void ForestPainter::interval(const ForestRow& row, double y) {
    const Columns& c = columns_;
    const double from = row.lower ? std::max(x_.at(*row.lower), c.left) : c.left;
    const double to = row.upper ? std::min(x_.at(*row.upper), c.right) : c.right;
    painter_.setPen(QPen(t_.accentText, 1.6));
    painter_.drawLine(QPointF(from, y), QPointF(to, y));
    const auto arrow = [&](double at, double way) {
        painter_.drawLine(QPointF(at, y), QPointF(at + way * 6, y - 4));
        painter_.drawLine(QPointF(at, y), QPointF(at + way * 6, y + 4));
    };
    const auto stop = [&](double at) { painter_.drawLine(QPointF(at, y - 4), QPointF(at, y + 4)); };
    if (row.lower && x_.at(*row.lower) >= c.left - 0.5)
        stop(from);
    else
        arrow(from, 1);
    if (row.upper && x_.at(*row.upper) <= c.right + 0.5)
        stop(to);
    else
        arrow(to, -1);
}

void ForestPainter::estimate(const ForestRow& row, double y) {
    const double share = heaviest_ > 0 ? std::sqrt(row.weight / heaviest_) : 1;
    const double r = 3 + 4 * std::clamp(share, 0.0, 1.0);
    const QPointF at(std::clamp(x_.at(*row.estimate), columns_.left, columns_.right), y);
    painter_.setPen(QPen(t_.surface, 1));
    painter_.setBrush(t_.accentText);
    if (row.summary) {
        painter_.drawPolygon(
            QPolygonF({at + QPointF(-8, 0), at + QPointF(0, -7), at + QPointF(8, 0), at + QPointF(0, 7)}));
    } else {
        painter_.drawRect(QRectF(at.x() - r, at.y() - r, 2 * r, 2 * r));
    }
    painter_.setBrush(Qt::NoBrush);
}

} // namespace

void ForestPlot::setData(ForestData given) {
    data_ = std::move(given);
    dataChanged();
}

QString ForestPlot::figures(const ForestRow& row) const {
    if (row.heading)
        return {};
    if (!row.estimate)
        return row.why.isEmpty() ? tr("cannot be said") : row.why;
    const QString percent = data_.percent ? QStringLiteral(" %") : QString();
    const QString low = row.lower ? number(*row.lower, data_) : QStringLiteral("…");
    const QString high = row.upper ? number(*row.upper, data_) : QStringLiteral("…");
    if (!row.lower && !row.upper)
        return number(*row.estimate, data_) + percent;
    return tr("%1 (%2 to %3)").arg(number(*row.estimate, data_), low, high) + percent;
}

QSize ForestPlot::sizeHint() const {
    return {720, static_cast<int>(12 + kHead + kFoot + kRow * static_cast<double>(data_.rows.size()))};
}

QSize ForestPlot::minimumSizeHint() const {
    return {400, sizeHint().height()};
}

void ForestPlot::paintChart(QPainter& painter, const QRectF& rect, const Tokens& t, int current) const {
    std::vector<QString> texts;
    for (const ForestRow& row : data_.rows)
        texts.push_back(figures(row));
    ForestPainter plot(painter, rect, t, data_, std::move(texts));
    plot.heads();
    plot.axis();
    for (std::size_t i = 0; i < data_.rows.size(); ++i)
        plot.row(i, static_cast<int>(i) == current);
}

int ForestPlot::markCount() const {
    return static_cast<int>(data_.rows.size());
}
QString ForestPlot::markId(int mark) const {
    return data_.rows[static_cast<std::size_t>(mark)].id;
}

QString ForestPlot::markText(int mark) const {
    const ForestRow& row = data_.rows[static_cast<std::size_t>(mark)];
    if (row.heading)
        return row.name;
    QString text = row.name + QStringLiteral(": ") + figures(row);
    if (!row.counts.isEmpty())
        text += QStringLiteral(", ") + row.counts;
    return text;
}

int ForestPlot::markAt(const QPointF& at) const {
    const double row = (at.y() - contentRect().top() - kHead) / kRow;
    if (row < 0 || row >= static_cast<double>(data_.rows.size()))
        return -1;
    const int mark = static_cast<int>(row);
    return data_.rows[static_cast<std::size_t>(mark)].heading ? -1 : mark;
}

ChartTable ForestPlot::asTable() const {
    ChartTable table;
    table.header << tr("Group") << tr("Counts")
                 << (data_.estimateName.isEmpty() ? tr("Estimate") : data_.estimateName);
    for (const ForestRow& row : data_.rows) {
        if (!row.heading)
            table.rows << QStringList{row.name, row.counts, figures(row)};
    }
    return table;
}

} // namespace milehold::ui
