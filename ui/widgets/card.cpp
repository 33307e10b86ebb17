// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/widgets/card.h"

#include "ui/theme/figures.h"
#include "ui/theme/icons.h"
#include "ui/theme/paint.h"
#include "ui/theme/theme.h"

#include <QGridLayout>
#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>

namespace milehold::ui {

Card::Card(const QString& title, QWidget* parent)
    : QFrame(parent), head_(new QWidget(this)), title_(new QLabel(head_)), note_(new QLabel(head_)),
      headRow_(new QHBoxLayout(head_)), body_(new QVBoxLayout) {
    setBackgroundRole(QPalette::Base); // what lies on it asks for its ground
    auto* stack = new QVBoxLayout(this);
    stack->setContentsMargins(kGap, kGap, kGap, kGap);
    stack->setSpacing(12);
    auto* words = new QVBoxLayout;
    words->setSpacing(2);
    theme::setText(title_, TextRole::Lead);
    theme::setText(note_, TextRole::Body, true);
    note_->setWordWrap(true);
    words->addWidget(title_);
    words->addWidget(note_);
    headRow_->setContentsMargins(0, 0, 0, 0);
    headRow_->addLayout(words, 1);
    stack->addWidget(head_);
    body_->setSpacing(kGrid);
    stack->addLayout(body_, 1);
    note_->hide();
    setTitle(title);
}

void Card::setTitle(const QString& title) {
    title_->setText(title);
    title_->setVisible(!title.isEmpty());
    head_->setVisible(!title.isEmpty() || !note_->text().isEmpty() || headRow_->count() > 1);
    setAccessibleName(title);
}

void Card::setNote(const QString& note) {
    note_->setText(note);
    note_->setVisible(!note.isEmpty());
    head_->setVisible(true);
}

void Card::addControl(QWidget* control) {
    headRow_->addWidget(control, 0, Qt::AlignTop);
    head_->show();
}

void Card::setEdge(Edge edge) {
    edge_ = edge;
    update();
}

void Card::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    const Tokens& t = theme::tokensOf(this);
    const QColor line = edge_ == Edge::Chosen ? t.accentText : edge_ == Edge::NeedsYou ? t.amber : t.hairline;
    paint::box(painter, QRectF(rect()), t.surface, line, kRadius, edge_ == Edge::Plain ? 1 : 2);
}

BigNumber::BigNumber(const QString& label, QWidget* parent) : QWidget(parent) {
    setSizePolicy(QSizePolicy::Preferred, QSizePolicy::Fixed);
    setLabel(label);
}

void BigNumber::setLabel(const QString& label) {
    label_ = label;
    setAccessibleName(label);
    update();
}

void BigNumber::setValue(const QString& value, const QString& unit) {
    value_ = value;
    unit_ = unit;
    setAccessibleDescription(value.isEmpty() ? tr("not known") : value + u' ' + unit);
    updateGeometry();
    update();
}

void BigNumber::setNote(const QString& note) {
    note_ = note;
    updateGeometry();
    update();
}

QSize BigNumber::sizeHint() const {
    const QFontMetrics small(theme::font(TextRole::Small));
    const QFont big = theme::font(TextRole::Big);
    const int value = static_cast<int>(figuresWidth(big, value_)) + 6 +
                      QFontMetrics(theme::font(TextRole::Lead)).horizontalAdvance(unit_);
    const int words = std::max(small.horizontalAdvance(label_), small.horizontalAdvance(note_));
    return {std::max(value, words) + 4, 80};
}

QSize BigNumber::minimumSizeHint() const {
    return {96, sizeHint().height()};
}

void BigNumber::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    const Tokens& t = theme::tokensOf(this);
    const QFont small = theme::font(TextRole::Small);
    const QFontMetrics metrics(small);
    painter.setFont(small);
    painter.setPen(t.inkSoft);
    painter.drawText(QRect(0, 0, width(), 20), Qt::AlignLeft | Qt::AlignVCenter,
                     metrics.elidedText(label_, Qt::ElideRight, width()));
    // A value too long for its place is set smaller rather than cut.
    QFont big = theme::font(TextRole::Big);
    const QFont unitFont = theme::font(TextRole::Body);
    const QString shown = value_.isEmpty() ? QStringLiteral("–") : value_;
    const double unitWidth = unit_.isEmpty() ? 0 : QFontMetricsF(unitFont).horizontalAdvance(unit_) + 6;
    while (big.pixelSize() > kLead && figuresWidth(big, shown) + unitWidth > width()) {
        big.setPixelSize(big.pixelSize() - 2);
    }
    painter.setFont(big);
    painter.setPen(value_.isEmpty() ? t.inkSoft : t.ink);
    const QFontMetricsF bigMetrics(big);
    const double baseline = 20 + 20 + (bigMetrics.ascent() - bigMetrics.descent()) / 2;
    const double w = figuresWidth(big, shown);
    drawFigures(painter, QRectF(0, 20, width(), 40), Qt::AlignLeft | Qt::AlignVCenter, shown);
    painter.setFont(unitFont);
    painter.setPen(t.inkSoft);
    if (!value_.isEmpty())
        painter.drawText(QPointF(w + 6, baseline), unit_);
    if (!note_.isEmpty()) {
        painter.setFont(small);
        painter.drawText(QRect(0, 60, width(), 20), Qt::AlignLeft | Qt::AlignVCenter,
                         metrics.elidedText(note_, Qt::ElideRight, width()));
    }
}

EmptyState::EmptyState(const QString& iconName, const QString& title, const QString& text, QWidget* parent)
    : QWidget(parent), iconName_(iconName), title_(new QLabel(title, this)), text_(new QLabel(text, this)),
      stack_(new QVBoxLayout(this)) {
    theme::setText(title_, TextRole::Lead);
    theme::setText(text_, TextRole::Body, true);
    title_->setAlignment(Qt::AlignHCenter);
    title_->setWordWrap(true);
    text_->setAlignment(Qt::AlignHCenter);
    text_->setWordWrap(true);
    text_->setMaximumWidth(440);
    text_->setMinimumWidth(280);
    // An alignment would take the height of one line; between stretches the text keeps the height of its
    // width.
    auto* line = new QHBoxLayout;
    line->addStretch(1);
    line->addWidget(text_, 100);
    line->addStretch(1);
    stack_->addStretch(2);
    stack_->addSpacing(64);
    stack_->addWidget(title_);
    stack_->addLayout(line);
    stack_->addStretch(3);
}

void EmptyState::setTexts(const QString& title, const QString& text) {
    title_->setText(title);
    text_->setText(text);
}

void EmptyState::setAction(const QString& text) {
    auto* button = qobject_cast<QPushButton*>(button_);
    if (!button) {
        button = new QPushButton(this);
        theme::setRole(button, ButtonRole::Primary);
        connect(button, &QPushButton::clicked, this, &EmptyState::actionWanted);
        stack_->insertSpacing(stack_->count() - 1, kGrid);
        stack_->insertWidget(stack_->count() - 1, button, 0, Qt::AlignHCenter);
        button_ = button;
    }
    button->setText(text);
}

void EmptyState::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    const QRectF at(width() / 2.0 - 24, title_->y() - 60, 48, 48);
    paintIcon(painter, at, iconName_, theme::tokensOf(this).outline);
}

} // namespace milehold::ui
