// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quantity/date.h"

#include <QLineEdit>

#include <optional>

class QToolButton;

namespace milehold::ui {

/// A date for the keyboard first. Reads `2031-04-09`, the locale's short form, `9.4` or `4/9` of this year,
/// `t` for today, `+3` and `-3` for days from today. Up and Down move by a day, Page keys by a month; F4
/// opens a calendar.
class DateField : public QLineEdit {
    Q_OBJECT
public:
    explicit DateField(QWidget* parent = nullptr);

    void setDate(std::optional<core::Date> date);
    /// Empty when blank or unreadable; hasValidText() tells them apart.
    std::optional<core::Date> date() const;
    bool hasValidText() const;
    /// What `t` means and where the arrows start from. There is no clock in here.
    void setToday(core::Date today);

    QSize sizeHint() const override;

signals:
    void edited(); ///< by the user, not by setDate()

protected:
    void keyPressEvent(QKeyEvent* event) override;
    void resizeEvent(QResizeEvent* event) override;
    void changeEvent(QEvent* event) override;
    void focusInEvent(QFocusEvent* event) override;

private:
    void move(int days, int months);
    void openCalendar();

    core::Date today_{};
    QToolButton* button_ = nullptr;
};

/// What a person typed as a date; `today` gives the year and the start of `+3`.
std::optional<core::Date> readDate(const QString& text, core::Date today, const QLocale& locale);

} // namespace milehold::ui
