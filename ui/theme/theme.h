// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/theme/tokens.h"

#include <QFont>
#include <QPushButton>

class QApplication;
class QLabel;
class QPalette;
class QWidget;

namespace milehold::ui {

enum class ButtonRole {
    Ordinary,
    Primary, ///< what the page is for; one a page
    Quiet,   ///< no outline until pointed at
    Danger,  ///< cannot be taken back
};

enum class TextRole { Body, Strong, Small, Lead, Title, Big, Hero };

/// What a field says about its value; drawn as the colour of its outline beside the words of its finding.
enum class FieldState { Plain, Warning, Error };

namespace theme {

/// Puts our style, palette and font on the program, or switches them while it runs. Charts follow by
/// themselves.
void apply(QApplication& app, Scheme scheme);

/// The scheme in force; Light before the first apply().
Scheme scheme();

/// The colours that this widget is painted with; the Light ones before the first apply().
const Tokens& tokensOf(const QWidget* widget);

QFont font(TextRole role);
QPalette paletteFor(const Tokens& tokens);

/// For text that goes into a PDF: Inter's shaping loses punctuation in copied text, so it is switched off.
QFont printFont(TextRole role);

void setRole(QPushButton* button, ButtonRole role);
ButtonRole roleOf(const QWidget* button);
/// A control for gloves: 40 instead of 32 pixels high.
void setLarge(QWidget* control);

void setFieldState(QWidget* field, FieldState state);
FieldState fieldStateOf(const QWidget* field);

/// Size and weight of a label; `soft` paints it in the ink of notes and units.
void setText(QWidget* label, TextRole role, bool soft = false);

} // namespace theme
} // namespace milehold::ui
