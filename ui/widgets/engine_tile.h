// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/widgets/engine_plan.h"

#include <QAbstractButton>

namespace milehold::ui {

/// One phaser on the plan: chosen or not, and what happened to it in a shape and a word.
class EngineTile : public QAbstractButton {
    Q_OBJECT
public:
    explicit EngineTile(EnginePlan* plan);

    /// Which phaser it stands for; `number` is the key that switches it.
    void setPlace(core::Position position, int number, int banks);

    core::Position position() const { return position_; }
    void setState(const PhaserState& state);
    void setReadOnly(bool readOnly);

protected:
    void paintEvent(QPaintEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;
    void focusInEvent(QFocusEvent* event) override;

private:
    void describe();

    EnginePlan* plan_;
    core::Position position_;
    int number_ = 1;
    int banks_ = 1;
    bool readOnly_ = false;
    PhaserState state_;
};

/// The wave that stands for noise.
void paintNoise(QPainter& painter, const QRectF& rect, const QColor& colour, double width);

} // namespace milehold::ui
