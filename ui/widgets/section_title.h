// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QWidget>

class QHBoxLayout;
class QLabel;

namespace milehold::ui {

/// A heading with a hairline to its right, and room for a control at the end of it.
class SectionTitle : public QWidget {
    Q_OBJECT
public:
    explicit SectionTitle(const QString& title, QWidget* parent = nullptr);
    void setTitle(const QString& title);
    void addControl(QWidget* control);

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    QLabel* label_;
    QHBoxLayout* row_;
};

} // namespace milehold::ui
