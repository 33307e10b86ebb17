// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/shelf/id_combo.h"

#include "ui/widgets/text.h"

#include <QSignalBlocker>
#include <QWheelEvent>

#include <algorithm>

namespace milehold::ui {

IdCombo::IdCombo(const QString& none, QWidget* parent) : QComboBox(parent), none_(none) {
    setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
    setMinimumContentsLength(8);
    setMaxVisibleItems(16);
    connect(this, &QComboBox::activated, this, &IdCombo::edited);
    fill(std::nullopt);
}

void IdCombo::setItems(const QList<Item>& items) {
    items_ = items;
    fill(chosen());
}

void IdCombo::setChosen(const std::optional<core::Uuid>& id) {
    fill(id);
}

std::optional<core::Uuid> IdCombo::chosen() const {
    const QString key = currentData().toString();
    return key.isEmpty() ? std::nullopt : core::uuidFromString(toUtf8(key));
}

void IdCombo::fill(const std::optional<core::Uuid>& keep) {
    const QSignalBlocker quiet(this);
    clear();
    if (!none_.isNull() || !keep)
        addItem(none_, QString());
    bool listed = !keep;
    for (const Item& item : std::as_const(items_)) {
        addItem(item.text, toText(core::toString(item.id)));
        if (!item.detail.isEmpty())
            setItemData(count() - 1, item.detail, Qt::ToolTipRole);
        listed = listed || item.id == *keep;
    }
    // A record may name what is not on the shelf any more; showing it must not change it.
    if (!listed)
        addItem(tr("Not on the shelf"), toText(core::toString(*keep)));
    setCurrentIndex(keep ? findData(toText(core::toString(*keep))) : 0);
}

void IdCombo::wheelEvent(QWheelEvent* event) {
    event->ignore();
}

} // namespace milehold::ui
