// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/shelf.h"

#include <QWidget>

class QVBoxLayout;

namespace milehold::ui {

/// What to be careful of on a repair path, and what must not be used a second time. Hidden when there is
/// nothing.
class Cautions : public QWidget {
    Q_OBJECT
public:
    explicit Cautions(QWidget* parent = nullptr);
    /// Null: nothing.
    void setPath(const core::RepairPath* path);

private:
    void addList(const QString& iconName, const QString& title, const std::vector<std::string>& items,
                 bool amber);

    QVBoxLayout* rows_;
};

} // namespace milehold::ui
