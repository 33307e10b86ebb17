// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/widgets/date_field.h"

#include "ui/theme/icons.h"
#include "ui/theme/theme.h"
#include "ui/widgets/text.h"

#include <QCalendarWidget>
#include <QFocusEvent>
#include <QKeyEvent>
#include <QRegularExpression>
#include <QToolButton>
#include <QVBoxLayout>

namespace milehold::ui {

namespace {

/// Day before month, as the locale's own short form has it.
bool dayFirst(const QLocale& locale) {
    const QString format = locale.dateFormat(QLocale::ShortFormat);
    return format.indexOf(u'd') < format.indexOf(u'M');
}

QDate fromParts(int year, int month, int day) {
    if (year < 100)
        year += 2000;
    return {year, month, day};
}

} // namespace

std::optional<core::Date> readDate(const QString& typed, core::Date today, const QLocale& locale) {
    const QString text = typed.trimmed();
    const auto found = [](QDate date) -> std::optional<core::Date> {
        if (!date.isValid() || date.year() < 1 || date.year() > 9999)
            return std::nullopt;
        return toDate(date);
    };
    static const QRegularExpression iso(QStringLiteral("^(\\d{4})-(\\d{1,2})-(\\d{1,2})$"));
    if (const auto m = iso.match(text); m.hasMatch()) {
        return found(QDate(m.captured(1).toInt(), m.captured(2).toInt(), m.captured(3).toInt()));
    }
    const QDate now = toQDate(today);
    if (now.isValid()) {
        if (text.compare(QLatin1String("t"), Qt::CaseInsensitive) == 0)
            return found(now);
        static const QRegularExpression days(QStringLiteral("^([+\\-])(\\d{1,4})$"));
        if (const auto m = days.match(text); m.hasMatch()) {
            const int count = m.captured(2).toInt();
            return found(now.addDays(m.captured(1) == QLatin1String("+") ? count : -count));
        }
    }
    static const QRegularExpression parts(
        QStringLiteral("^(\\d{1,2})[./\\- ](\\d{1,2})[./\\- ]?(\\d{4}|\\d{2})?$"));
    if (const auto m = parts.match(text); m.hasMatch()) {
        const int first = m.captured(1).toInt();
        const int second = m.captured(2).toInt();
        if (m.captured(3).isEmpty() && !now.isValid())
            return std::nullopt;
        const int year = m.captured(3).isEmpty() ? now.year() : m.captured(3).toInt();
        return found(dayFirst(locale) ? fromParts(year, second, first) : fromParts(year, first, second));
    }
    return found(locale.toDate(text, QLocale::ShortFormat));
}

DateField::DateField(QWidget* parent) : QLineEdit(parent) {
    setMaxLength(24);
    button_ = new QToolButton(this);
    button_->setIcon(icon(QStringLiteral("calendar")));
    button_->setIconSize(QSize(16, 16));
    button_->setFocusPolicy(Qt::NoFocus); // F4 does the same from the keyboard
    button_->setCursor(Qt::ArrowCursor);
    button_->setToolTip(tr("Calendar (F4)"));
    button_->setAccessibleName(tr("Open the calendar"));
    setTextMargins(0, 0, 24, 0);
    connect(button_, &QToolButton::clicked, this, &DateField::openCalendar);
    connect(this, &QLineEdit::textEdited, this, &DateField::edited);
    connect(this, &QLineEdit::editingFinished, this, [this] {
        if (const auto value = date())
            setDate(value);
    });
}

void DateField::setDate(std::optional<core::Date> date) {
    const QString shown = date ? dateText(*date, locale()) : QString();
    if (shown != text())
        setText(shown);
}

std::optional<core::Date> DateField::date() const {
    return readDate(text(), today_, locale());
}

bool DateField::hasValidText() const {
    return text().trimmed().isEmpty() || date().has_value();
}

void DateField::setToday(core::Date today) {
    today_ = today;
}

QSize DateField::sizeHint() const {
    return {fontMetrics().horizontalAdvance(QStringLiteral("88/88/8888")) + 24 + 2 * kGap,
            QLineEdit::sizeHint().height()};
}

void DateField::keyPressEvent(QKeyEvent* event) {
    switch (event->key()) {
    case Qt::Key_Up:
        return move(1, 0);
    case Qt::Key_Down:
        if (event->modifiers() & (Qt::AltModifier | Qt::ControlModifier))
            return openCalendar();
        return move(-1, 0);
    case Qt::Key_PageUp:
        return move(0, 1);
    case Qt::Key_PageDown:
        return move(0, -1);
    case Qt::Key_F4:
        return openCalendar();
    default:
        QLineEdit::keyPressEvent(event);
    }
}

void DateField::resizeEvent(QResizeEvent* event) {
    QLineEdit::resizeEvent(event);
    button_->setGeometry(width() - 28, 3, 25, height() - 6);
}

void DateField::changeEvent(QEvent* event) {
    QLineEdit::changeEvent(event);
    if (event->type() == QEvent::ReadOnlyChange && button_)
        button_->setVisible(!isReadOnly());
}

void DateField::focusInEvent(QFocusEvent* event) {
    QLineEdit::focusInEvent(event);
    if (event->reason() != Qt::MouseFocusReason)
        selectAll();
}

void DateField::move(int days, int months) {
    if (isReadOnly())
        return;
    const QDate from = toQDate(date().value_or(today_));
    if (!from.isValid())
        return;
    const bool blank = !date();
    const QDate to = blank ? from : from.addDays(days).addMonths(months);
    if (!to.isValid() || to.year() < 1 || to.year() > 9999)
        return;
    setDate(toDate(to));
    emit edited();
}

void DateField::openCalendar() {
    if (isReadOnly() || !isEnabled())
        return;
    auto* frame = new QWidget(this, Qt::Popup);
    frame->setAttribute(Qt::WA_DeleteOnClose);
    auto* layout = new QVBoxLayout(frame);
    layout->setContentsMargins(kHalf, kHalf, kHalf, kHalf);
    auto* calendar = new QCalendarWidget(frame);
    calendar->setVerticalHeaderFormat(QCalendarWidget::NoVerticalHeader);
    calendar->setLocale(locale());
    if (const QDate at = toQDate(date().value_or(today_)); at.isValid())
        calendar->setSelectedDate(at);
    layout->addWidget(calendar);
    connect(calendar, &QCalendarWidget::activated, this, [this, frame](QDate chosen) {
        setDate(toDate(chosen));
        frame->close();
        emit edited();
    });
    connect(calendar, &QCalendarWidget::clicked, calendar, &QCalendarWidget::activated);
    frame->move(mapToGlobal(QPoint(0, height() + 2)));
    frame->show();
    calendar->setFocus();
}

} // namespace milehold::ui
