// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QWidget>

class QLabel;
class QLineEdit;
class QPushButton;

namespace milehold::ui {

/// Asks in one line why something is voided; hidden until it asks. Enter gives the reason, which is never
/// blank, Escape leaves.
class ReasonRow : public QWidget {
    Q_OBJECT
public:
    explicit ReasonRow(QWidget* parent = nullptr);

    /// `question` is a label for the field, its buddy; `act` says on the button what will happen, `keep` what
    /// does not.
    void ask(const QString& question, const QString& act, const QString& keep);
    void leave();

signals:
    void given(const QString& reason);
    void left();

protected:
    void keyPressEvent(QKeyEvent* event) override;

private:
    void give();

    QLabel* question_;
    QLineEdit* reason_;
    QPushButton* act_;
    QPushButton* keep_;
};

} // namespace milehold::ui
