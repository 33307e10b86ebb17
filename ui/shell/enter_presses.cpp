// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/shell/enter_presses.h"

#include <QKeyEvent>
#include <QPushButton>
#include <QToolButton>

namespace milehold::ui {

bool EnterPresses::eventFilter(QObject* watched, QEvent* event) {
    if (event->type() != QEvent::KeyPress)
        return false;
    const auto* key = static_cast<QKeyEvent*>(event);
    if ((key->key() != Qt::Key_Return && key->key() != Qt::Key_Enter) || key->isAutoRepeat() ||
        (key->modifiers() & ~Qt::KeypadModifier) != Qt::NoModifier)
        return false;
    auto* button = qobject_cast<QAbstractButton*>(watched);
    const bool presses = qobject_cast<QPushButton*>(watched) || qobject_cast<QToolButton*>(watched);
    if (!presses || !button->isEnabled() || !button->hasFocus())
        return false;
    button->click();
    return true;
}

} // namespace milehold::ui
