// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/widgets/segmented.h"

#include "ui/theme/paint.h"
#include "ui/theme/theme.h"

#include <QHBoxLayout>
#include <QPainterPath>

#include <algorithm>

namespace milehold::ui {

namespace {

class Segment : public QRadioButton {
public:
    Segment(const QString& text, bool first, bool last, QWidget* parent)
        : QRadioButton(text, parent), first_(first), last_(last) {
        setSizePolicy(QSizePolicy::Preferred, QSizePolicy::Fixed);
    }

    QSize sizeHint() const override {
        QFont medium = font();
        medium.setWeight(QFont::Medium);
        return {QFontMetrics(medium).size(Qt::TextShowMnemonic, text()).width() + 2 * kGap - kHalf,
                kControlHeight};
    }
    QSize minimumSizeHint() const override { return sizeHint(); }

protected:
    bool hitButton(const QPoint& at) const override { return rect().contains(at); }

    void paintEvent(QPaintEvent*) override {
        QPainter painter(this);
        const paint::Scope scope(painter);
        const Tokens& t = theme::tokensOf(this);
        const bool on = isChecked();
        // The outline runs around the whole control: an end is round, an inner side lies under its neighbour.
        QRectF shape = QRectF(rect()).adjusted(0.5, 0.5, -0.5, -0.5);
        if (!first_)
            shape.setLeft(shape.left() - kRadius - 1);
        if (!last_)
            shape.setRight(shape.right() + kRadius + 1);
        const QColor ground = !isEnabled()   ? t.paper
                              : on           ? t.accentSoft
                              : underMouse() ? mixed(t.surface, t.ink, 0.05)
                                             : t.surface;
        const FieldState state = theme::fieldStateOf(parentWidget());
        const QColor line = !isEnabled()                   ? t.hairline
                            : state == FieldState::Error   ? t.dangerText
                            : state == FieldState::Warning ? t.amber
                                                           : t.outline;
        painter.setPen(QPen(line, 1));
        painter.setBrush(ground);
        painter.drawRoundedRect(shape, kRadius, kRadius);
        if (!first_)
            paint::hairline(painter, QPointF(0, 1), QPointF(0, height() - 2), t.outline);
        QFont medium = font();
        medium.setWeight(on ? QFont::DemiBold : QFont::Normal);
        painter.setFont(medium);
        painter.setPen(!isEnabled() ? t.inkFaint : on ? t.accentText : t.ink);
        painter.drawText(rect(), Qt::AlignCenter | Qt::TextShowMnemonic | Qt::TextSingleLine, text());
        if (on) {
            const QRectF bar(kRadius + 2, height() - 4, width() - 2 * kRadius - 4, 2);
            painter.fillRect(bar, isEnabled() ? t.accentText : t.inkFaint);
        }
        if (hasFocus())
            paint::focusRing(painter, QRectF(rect()), t);
    }

private:
    bool first_;
    bool last_;
};

} // namespace

Segmented::Segmented(const QStringList& choices, QWidget* parent) : QWidget(parent) {
    auto* row = new QHBoxLayout(this);
    row->setContentsMargins(0, 0, 0, 0);
    row->setSpacing(0);
    setSizePolicy(QSizePolicy::Maximum, QSizePolicy::Fixed);
    // A label's shortcut skips a widget without a policy, even where its proxy would take the keyboard.
    setFocusPolicy(Qt::ClickFocus);
    setChoices(choices);
}

void Segmented::setChoices(const QStringList& choices) {
    // Not at once: a choice of one of them may be what brought us here.
    for (QRadioButton* old : buttons_) {
        layout()->removeWidget(old);
        old->setAutoExclusive(false);
        old->hide();
        old->deleteLater();
    }
    buttons_.clear();
    for (int i = 0; i < choices.size(); ++i) {
        auto* segment = new Segment(choices[i], i == 0, i + 1 == choices.size(), this);
        layout()->addWidget(segment);
        buttons_.append(segment);
        segment->show();
        connect(segment, &QRadioButton::toggled, this, [this, i](bool on) {
            if (on)
                emit chosen(i);
        });
    }
    setFocusProxy(nullptr);
    if (!buttons_.isEmpty())
        setFocusProxy(buttons_.first());
}

void Segmented::setCurrent(int index) {
    const bool isHere = std::any_of(buttons_.begin(), buttons_.end(),
                                    [](const QRadioButton* button) { return button->hasFocus(); });
    for (int i = 0; i < buttons_.size(); ++i) {
        QRadioButton* button = buttons_[i];
        const QSignalBlocker blocked(button);
        button->setAutoExclusive(false);
        button->setChecked(i == index);
        button->setAutoExclusive(true);
        button->update();
    }
    if (index >= 0 && index < buttons_.size()) {
        setFocusProxy(buttons_[index]);
        // The keyboard stays with the choice, else an arrow key would start from the old one.
        if (isHere)
            buttons_[index]->setFocus();
    }
}

int Segmented::current() const {
    for (int i = 0; i < buttons_.size(); ++i) {
        if (buttons_[i]->isChecked())
            return i;
    }
    return -1;
}

QAbstractButton* Segmented::button(int index) const {
    return buttons_.value(index);
}

} // namespace milehold::ui
