// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/shelf/chain.h"

#include <QWidget>

namespace milehold::ui {

/// A line of succession drawn as a chain of cards: the oldest at the left, an arrow to what superseded it,
/// the one that is being looked at filled, the current ones outlined in the accent and said so. Arrows move,
/// Return opens a link.
class ChainView : public QWidget {
    Q_OBJECT
public:
    explicit ChainView(QWidget* parent = nullptr);
    void setChain(const Chain& chain);
    const Chain& chain() const { return chain_; }

    QSize sizeHint() const override;
    QSize minimumSizeHint() const override;

signals:
    void linkWanted(const milehold::core::Uuid& id);

protected:
    void paintEvent(QPaintEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;
    void mousePressEvent(QMouseEvent* event) override;
    void mouseMoveEvent(QMouseEvent* event) override;
    void leaveEvent(QEvent* event) override;
    bool event(QEvent* event) override;

private:
    QRectF cardOf(const ChainLink& link) const;
    int firstColumn() const; ///< older ones have no room
    int linkAt(const QPointF& at) const;
    void moveTo(int columns, int rows);
    QString spoken(const ChainLink& link) const;

    Chain chain_;
    int focused_ = -1;
    int hovered_ = -1;
};

} // namespace milehold::ui
