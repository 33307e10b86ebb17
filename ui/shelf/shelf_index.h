// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/shelf/shelf_record.h"

#include <QListWidget>

#include <array>

namespace milehold::ui {

/// The drawers of the shelf with how much is in each: one tab stop, the arrows change the drawer.
class ShelfIndex : public QListWidget {
    Q_OBJECT
public:
    explicit ShelfIndex(QWidget* parent = nullptr);
    void setCounts(const std::array<int, kShelfSections>& counts);
    ShelfSection section() const;
    void setSection(ShelfSection section);

    QSize sizeHint() const override;

signals:
    void sectionChosen(milehold::ui::ShelfSection section);
};

} // namespace milehold::ui
