// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/shelf/plain_fields.h"

#include "ui/theme/theme.h"
#include "ui/widgets/date_field.h"
#include "ui/widgets/text.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QPainter>
#include <QTextBlock>
#include <QWheelEvent>

#include <cmath>

namespace milehold::ui {

namespace {
constexpr int kMarkWidth = 16;
} // namespace

WholeField::WholeField(QWidget* parent) : UnitField(parent) {
    connect(this, &QLineEdit::textEdited, this, [this] { emit edited(); });
}

void WholeField::setValue(std::optional<int> value) {
    setText(value ? QString::number(*value) : QString());
}

std::optional<int> WholeField::value() const {
    bool good = false;
    const int number = text().trimmed().toInt(&good);
    return good ? std::optional(number) : std::nullopt;
}

bool WholeField::hasValidText() const {
    return text().trimmed().isEmpty() || value().has_value();
}

TextField::TextField(int leastLines, QWidget* parent) : QPlainTextEdit(parent), leastLines_(leastLines) {
    setTabChangesFocus(true);
    viewport()->setAutoFillBackground(false); // the frame's round corners are the field's ground
    document()->setDocumentMargin(0);
    setViewportMargins(kGrid, 6, kGrid, 6);
    setVerticalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    connect(this, &QPlainTextEdit::textChanged, this, [this] {
        fit();
        if (!loading_)
            emit edited();
    });
    fit();
}

void TextField::put(const QString& text) {
    loading_ = true;
    setPlainText(text);
    loading_ = false;
    shown_ = toPlainText();
}

void TextField::setText(const std::string& text) {
    loadedText_ = text;
    put(toText(text));
}

std::string TextField::text() const {
    const QString now = toPlainText();
    return now == shown_ ? loadedText_ : toUtf8(now);
}

void TextField::setEntries(const std::vector<std::string>& entries) {
    loadedEntries_ = entries;
    if (!marked_) {
        marked_ = true;
        document()->setDocumentMargin(kMarkWidth - 6);
        setViewportMargins(6, 0, 0, 0);
        fit();
    }
    QStringList lines;
    for (const std::string& entry : entries)
        lines << toText(entry);
    put(lines.join(u'\n'));
}

std::vector<std::string> TextField::entries() const {
    const QString now = toPlainText();
    if (now == shown_)
        return loadedEntries_;
    std::vector<std::string> entries;
    for (const QString& line : now.split(u'\n'))
        if (const QString entry = line.trimmed(); !entry.isEmpty())
            entries.push_back(toUtf8(entry));
    return entries;
}

void TextField::fit() {
    int lines = 0;
    for (QTextBlock block = document()->begin(); block.isValid(); block = block.next())
        lines += std::max(1, block.layout() != nullptr ? block.layout()->lineCount() : 1);
    lines = std::max(lines, leastLines_);
    const double height =
        lines * QFontMetricsF(font()).lineSpacing() + 2 * (marked_ ? kMarkWidth - 6 : 6) + 2 * frameWidth();
    setFixedHeight(std::max(kControlHeight, static_cast<int>(std::ceil(height))));
}

void TextField::resizeEvent(QResizeEvent* event) {
    QPlainTextEdit::resizeEvent(event);
    fit();
}

void TextField::paintEvent(QPaintEvent* event) {
    if (marked_) { // where one entry ends and the next begins
        QPainter painter(viewport());
        painter.setPen(palette().color(QPalette::PlaceholderText));
        for (QTextBlock block = firstVisibleBlock(); block.isValid(); block = block.next()) {
            if (block.text().trimmed().isEmpty())
                continue;
            const QRectF box = blockBoundingGeometry(block).translated(contentOffset());
            const double line = QFontMetricsF(font()).lineSpacing();
            painter.drawText(QRectF(0, box.top(), kMarkWidth, line), Qt::AlignLeft | Qt::AlignVCenter,
                             QStringLiteral("\u2013"));
        }
    }
    QPlainTextEdit::paintEvent(event);
}

void TextField::wheelEvent(QWheelEvent* event) {
    event->ignore();
}

FreshnessFields::FreshnessFields(QWidget* parent)
    : QWidget(parent), checkedOn_(new DateField(this)), checkAgainBy_(new DateField(this)) {
    auto* row = new QHBoxLayout(this);
    row->setContentsMargins(0, 0, 0, 0);
    row->setSpacing(kGrid);
    auto* again = new QLabel(tr("and again &by"), this);
    again->setBuddy(checkAgainBy_);
    theme::setText(again, TextRole::Body, true);
    checkedOn_->setObjectName(QStringLiteral("freshness.checkedOn"));
    checkedOn_->setAccessibleName(tr("Checked on"));
    checkAgainBy_->setObjectName(QStringLiteral("freshness.checkAgainBy"));
    checkAgainBy_->setAccessibleName(tr("Check again by"));
    row->addWidget(checkedOn_, 1);
    row->addWidget(again);
    row->addWidget(checkAgainBy_, 1);
    setFocusProxy(checkedOn_);
    connect(checkedOn_, &DateField::edited, this, &FreshnessFields::edited);
    connect(checkAgainBy_, &DateField::edited, this, &FreshnessFields::edited);
}

void FreshnessFields::setToday(core::Date today) {
    checkedOn_->setToday(today);
    checkAgainBy_->setToday(today);
}

void FreshnessFields::setFreshness(const core::Freshness& freshness) {
    checkedOn_->setDate(freshness.checkedOn);
    checkAgainBy_->setDate(freshness.checkAgainBy);
}

core::Freshness FreshnessFields::freshness() const {
    return {checkedOn_->date(), checkAgainBy_->date()};
}

bool FreshnessFields::hasValidText() const {
    return checkedOn_->hasValidText() && checkAgainBy_->hasValidText();
}

} // namespace milehold::ui
