// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QWidget>

namespace milehold::ui {

/// One line of text that gives way: it asks for no width, and shows an ellipsis and a tooltip where it does
/// not fit.
class ElidedLabel : public QWidget {
    Q_OBJECT
public:
    explicit ElidedLabel(QWidget* parent = nullptr);
    void setText(const QString& text);
    const QString& text() const { return text_; }
    QSize sizeHint() const override;
    QSize minimumSizeHint() const override;

protected:
    void paintEvent(QPaintEvent* event) override;
    void resizeEvent(QResizeEvent* event) override;

private:
    void showTip();
    QString text_;
};

} // namespace milehold::ui
