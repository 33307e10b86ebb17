// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/shelf/choices.h"

#include <QCollator>

#include <algorithm>

namespace milehold::ui {
namespace {

void sortByText(QList<IdCombo::Item>& items) {
    QCollator collator;
    collator.setNumericMode(true);
    std::stable_sort(items.begin(), items.end(), [&](const IdCombo::Item& a, const IdCombo::Item& b) {
        return collator.compare(a.text, b.text) < 0;
    });
}

} // namespace

QList<IdCombo::Item> familyChoices(const core::Shelf& shelf) {
    QList<IdCombo::Item> items;
    for (const core::EngineFamily& family : shelf.families)
        items.append({family.id.uuid, toText(family.name)});
    sortByText(items);
    return items;
}

QList<IdCombo::Item> partChoices(const core::Shelf& shelf, bool withOld) {
    QList<IdCombo::Item> current;
    QList<IdCombo::Item> old;
    for (const core::PartNumber& part : shelf.parts) {
        const QString text = QStringLiteral("%1 · %2").arg(partName(part), labelText(part.component));
        if (part.supersededBy)
            old.append({part.id.uuid, text, QCoreApplication::translate("Choices", "Superseded")});
        else
            current.append({part.id.uuid, text});
    }
    sortByText(current);
    sortByText(old);
    if (withOld)
        current += old;
    return current;
}

QList<IdCombo::Item> calibrationChoices(const core::Shelf& shelf) {
    QList<IdCombo::Item> items;
    for (const core::Calibration& row : shelf.calibrations) {
        const core::EngineFamily* family = row.family ? shelf.find(*row.family) : nullptr;
        const QString code = toText(row.code);
        items.append({row.id.uuid,
                      family != nullptr ? QStringLiteral("%1 · %2").arg(code, toText(family->name)) : code});
    }
    sortByText(items);
    return items;
}

QList<IdCombo::Item> subjectChoices(const core::Shelf& shelf, core::ShelfSubject subject) {
    switch (subject) {
    case core::ShelfSubject::EngineFamily:
        return familyChoices(shelf);
    case core::ShelfSubject::PartNumber:
        return partChoices(shelf, true);
    case core::ShelfSubject::Calibration:
        return calibrationChoices(shelf);
    case core::ShelfSubject::RepairPath:
        break;
    }
    QList<IdCombo::Item> items;
    for (const core::RepairPath& path : shelf.paths)
        items.append({path.id.uuid, toText(path.name)});
    sortByText(items);
    return items;
}

void keepText(std::string& field, const QLineEdit* edit) {
    if (edit->text() != toText(field))
        field = toUtf8(edit->text().trimmed());
}

core::Finding unreadableText(const std::string& field, const QString& expected) {
    return {field, core::Severity::Error, toUtf8(expected)};
}

} // namespace milehold::ui
