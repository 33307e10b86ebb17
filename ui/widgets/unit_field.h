// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QLineEdit>

namespace milehold::ui {

/// A line edit with a unit that cannot be typed over, painted at its right end, or a sign at its left.
class UnitField : public QLineEdit {
    Q_OBJECT
public:
    explicit UnitField(QWidget* parent = nullptr);

    void setSuffix(const QString& suffix);
    QString suffix() const { return suffix_; }
    void setPrefix(const QString& prefix);
    QString prefix() const { return prefix_; }

    QSize sizeHint() const override;

protected:
    void paintEvent(QPaintEvent* event) override;
    void focusInEvent(QFocusEvent* event) override;

private:
    void setMargins();

    QString suffix_;
    QString prefix_;
};

} // namespace milehold::ui
