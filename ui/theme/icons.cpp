// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/theme/icons.h"

#include "ui/theme/theme.h"

#include <QDir>
#include <QFile>
#include <QIconEngine>
#include <QPainter>
#include <QPixmap>
#include <QSvgRenderer>

#include <algorithm>
#include <cassert>

// Resources of a static library are dropped by the linker unless they are asked for, from outside any
// namespace.
static void initIcons() {
    Q_INIT_RESOURCE(milehold_icons);
}

namespace milehold::ui {

namespace {

QString pathOf(const QString& name) {
    return QStringLiteral(":/milehold/icons/%1.svg").arg(name);
}

QByteArray drawingOf(const QString& name) {
    initIcons();
    QFile file(pathOf(name));
    if (file.open(QIODevice::ReadOnly))
        return file.readAll();
    assert(false && "an icon without a file");
    return QByteArrayLiteral(
        "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 24 24'><path d='M4 4h16v16H4zM4 "
        "4l16 16M20 4L4 20' fill='none' stroke='currentColor'/></svg>");
}

void renderDrawing(QPainter& painter, const QRectF& rect, QByteArray drawing, const QColor& colour) {
    drawing.replace("currentColor", colour.name(QColor::HexRgb).toLatin1());
    QSvgRenderer renderer(drawing);
    const double side = std::min(rect.width(), rect.height());
    QRectF square(0, 0, side, side);
    square.moveCenter(rect.center());
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    renderer.render(&painter, square);
    painter.restore();
}

class LineIconEngine : public QIconEngine {
public:
    LineIconEngine(const QString& name, IconTone tone)
        : name_(name), tone_(tone), drawing_(drawingOf(name)) {}

    void paint(QPainter* painter, const QRect& rect, QIcon::Mode mode, QIcon::State) override {
        renderDrawing(*painter, rect, drawing_, colourFor(mode));
    }

    QPixmap pixmap(const QSize& size, QIcon::Mode mode, QIcon::State state) override {
        return scaledPixmap(size, mode, state, 1.0);
    }

    // Qt passes the size in device pixels already.
    QPixmap scaledPixmap(const QSize& size, QIcon::Mode mode, QIcon::State, qreal) override {
        const QColor colour = colourFor(mode);
        if (colour != cachedColour_ || size != cached_.size()) {
            cached_ = QPixmap(size);
            cached_.fill(Qt::transparent);
            QPainter painter(&cached_);
            renderDrawing(painter, QRectF(QPointF(0, 0), size), drawing_, colour);
            cachedColour_ = colour;
        }
        return cached_;
    }

    QIconEngine* clone() const override { return new LineIconEngine(*this); }
    QString key() const override { return QStringLiteral("milehold-line"); }
    QString iconName() override { return name_; }
    bool isNull() override { return drawing_.isEmpty(); }

private:
    QColor colourFor(QIcon::Mode mode) const {
        const Tokens& t = theme::tokensOf(nullptr);
        switch (mode) {
        case QIcon::Disabled:
            return t.inkFaint;
        case QIcon::Active:
            return t.accentText;
        case QIcon::Selected:
            return t.onAccent;
        case QIcon::Normal:
            break;
        }
        switch (tone_) {
        case IconTone::Soft:
            return t.inkSoft;
        case IconTone::Accent:
            return t.accentText;
        case IconTone::Amber:
            return t.amberText;
        case IconTone::Danger:
            return t.dangerText;
        case IconTone::Ink:
            break;
        }
        return t.ink;
    }

    QString name_;
    IconTone tone_;
    QByteArray drawing_;
    QPixmap cached_;
    QColor cachedColour_;
};

} // namespace

QIcon icon(const QString& name) {
    return icon(name, IconTone::Ink);
}

QIcon icon(const QString& name, IconTone tone) {
    return QIcon(new LineIconEngine(name, tone));
}

QStringList iconNames() {
    initIcons();
    QStringList names =
        QDir(QStringLiteral(":/milehold/icons")).entryList({QStringLiteral("*.svg")}, QDir::Files);
    for (QString& name : names)
        name.chop(4);
    return names;
}

void paintIcon(QPainter& painter, const QRectF& rect, const QString& name, const QColor& colour) {
    renderDrawing(painter, rect, drawingOf(name), colour);
}

} // namespace milehold::ui
