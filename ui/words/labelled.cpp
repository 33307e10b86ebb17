// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/words/labelled.h"

#include "ui/theme/theme.h"

#include <QComboBox>
#include <QLabel>
#include <QVBoxLayout>

namespace milehold::ui {

QVBoxLayout* labelled(const QString& label, QWidget* field, QWidget* buddy) {
    auto* column = new QVBoxLayout;
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(kHalf - 2);
    auto* name = new QLabel(label, field->parentWidget());
    theme::setText(name, TextRole::Small, true);
    name->setBuddy(buddy ? buddy : field);
    column->addWidget(name);
    column->addWidget(field);
    QString plain = label;
    (buddy ? buddy : field)->setAccessibleName(plain.remove(QChar(u'&')));
    return column;
}

QComboBox* modestCombo(const QString& objectName, int characters, QWidget* parent) {
    auto* combo = new QComboBox(parent);
    combo->setObjectName(objectName);
    combo->setMinimumContentsLength(characters);
    combo->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
    combo->setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
    return combo;
}

QLabel* wrappingLabel(QWidget* parent) {
    auto* label = new QLabel(parent);
    label->setWordWrap(true);
    label->setTextInteractionFlags(Qt::TextSelectableByMouse);
    return label;
}

} // namespace milehold::ui
