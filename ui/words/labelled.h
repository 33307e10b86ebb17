// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QString>
#include <QWidget>

class QComboBox;
class QLabel;
class QVBoxLayout;

namespace milehold::ui {

/// A field under its small label, the label its buddy.
QVBoxLayout* labelled(const QString& label, QWidget* field, QWidget* buddy = nullptr);

/// A combo box that never asks for more width than `characters` and elides what is longer.
QComboBox* modestCombo(const QString& objectName, int characters, QWidget* parent);

/// A label that wraps, with text that can be selected.
QLabel* wrappingLabel(QWidget* parent);

} // namespace milehold::ui
