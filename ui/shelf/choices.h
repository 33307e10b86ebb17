// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/labels.h"
#include "ui/shelf/id_combo.h"
#include "ui/shelf/shelf_record.h"
#include "ui/widgets/text.h"

#include <QComboBox>
#include <QCoreApplication>
#include <QLineEdit>

namespace milehold::ui {

/// A label of core's in the reader's language; lupdate finds them in the list that core's labels are made
/// from.
template <class E> QString labelText(E value) {
    return QCoreApplication::translate("Label", std::string(core::labelOf(value)).c_str());
}

/// All values of an enum as the entries of a combo box.
template <class E> void fillWithLabels(QComboBox& combo) {
    for (const auto& label : core::labelsOf<E>())
        combo.addItem(labelText(label.value), static_cast<int>(label.value));
}
template <class E> void choose(QComboBox& combo, E value) {
    combo.setCurrentIndex(combo.findData(static_cast<int>(value)));
}
template <class E> E chosen(const QComboBox& combo) {
    return static_cast<E>(combo.currentData().toInt());
}

/// Engine families by name.
QList<IdCombo::Item> familyChoices(const core::Shelf& shelf);
/// Parts by number and revision; `withOld`: superseded ones too, at the end.
QList<IdCombo::Item> partChoices(const core::Shelf& shelf, bool withOld);
/// Calibrations by code.
QList<IdCombo::Item> calibrationChoices(const core::Shelf& shelf);
/// Everything that a note can be about, of one kind.
QList<IdCombo::Item> subjectChoices(const core::Shelf& shelf, core::ShelfSubject subject);

/// Takes over what was typed; a text that was not touched stays to the byte.
void keepText(std::string& field, const QLineEdit* edit);

/// A finding for a text that is no number or date.
core::Finding unreadableText(const std::string& field, const QString& expected);

} // namespace milehold::ui
