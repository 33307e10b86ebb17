// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/shell/alt_types_nothing.h"

#include <QAbstractSpinBox>
#include <QComboBox>
#include <QKeyEvent>
#include <QLineEdit>
#include <QPlainTextEdit>
#include <QTextEdit>

namespace milehold::ui {

bool AltTypesNothing::eventFilter(QObject* watched, QEvent* event) {
    if (event->type() != QEvent::KeyPress)
        return false;
    const auto* key = static_cast<QKeyEvent*>(event);
    // The key that types a third sign (AltGr) comes without Alt here, and as Ctrl+Alt on other systems.
    const auto held = key->modifiers() & ~(Qt::ShiftModifier | Qt::KeypadModifier);
    if (held != Qt::AltModifier || key->text().isEmpty() || !key->text().front().isPrint())
        return false;
    return qobject_cast<QLineEdit*>(watched) || qobject_cast<QTextEdit*>(watched) ||
           qobject_cast<QPlainTextEdit*>(watched) || qobject_cast<QAbstractSpinBox*>(watched) ||
           qobject_cast<QComboBox*>(watched);
}

} // namespace milehold::ui
