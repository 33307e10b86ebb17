// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QRadioButton>
#include <QStringList>
#include <QWidget>

namespace milehold::ui {

/// A few choices side by side of which one holds: quiet / noisy / not done. One tab stop; the arrows move.
class Segmented : public QWidget {
    Q_OBJECT
public:
    explicit Segmented(const QStringList& choices = {}, QWidget* parent = nullptr);

    /// Later than the constructor the new controls come last in the order of tabs.
    void setChoices(const QStringList& choices);
    /// -1: none chosen yet.
    void setCurrent(int index);
    int current() const;
    /// The control of one choice, for a tooltip or to disable it.
    QAbstractButton* button(int index) const;

signals:
    void chosen(int index); ///< by the user

private:
    QList<QRadioButton*> buttons_;
};

} // namespace milehold::ui
