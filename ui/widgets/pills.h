// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QAbstractButton>
#include <QString>

class QPainter;

namespace milehold::ui {

struct Tokens;

enum class Tone { Neutral, Accent, Amber, Danger };

/// A short word on a tinted ground; says, does nothing.
class Pill : public QWidget {
    Q_OBJECT
public:
    explicit Pill(const QString& text = {}, Tone tone = Tone::Neutral, QWidget* parent = nullptr);
    void setText(const QString& text);
    void setTone(Tone tone);
    QString text() const { return text_; }
    QSize sizeHint() const override;
    QSize minimumSizeHint() const override { return sizeHint(); }

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    QString text_;
    Tone tone_;
};

/// A choice that can be switched on and off, or taken away when it is removable (its cross, or the Delete
/// key).
class Chip : public QAbstractButton {
    Q_OBJECT
public:
    explicit Chip(const QString& text, QWidget* parent = nullptr);
    void setRemovable(bool removable);
    QSize sizeHint() const override;

signals:
    void removed();

protected:
    void paintEvent(QPaintEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;
    void mouseReleaseEvent(QMouseEvent* event) override;

private:
    QRect crossRect() const;
    bool removable_ = false;
};

void paintPill(QPainter& painter, const QRectF& rect, const QString& text, Tone tone, const Tokens& tokens);

} // namespace milehold::ui
