// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QListWidget>

namespace milehold::ui {

/// The rooms at the left edge: a list, so that arrows move in it, it is one tab stop, and readers hear what
/// is chosen.
class Rail : public QListWidget {
    Q_OBJECT
public:
    explicit Rail(QWidget* parent = nullptr);

    void addRoom(const QString& name, const QString& iconName);
    void setCount(int row, int waiting);

    QSize sizeHint() const override;

protected:
    void paintEvent(QPaintEvent* event) override;
};

} // namespace milehold::ui
