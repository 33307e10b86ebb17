// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/widgets/findings.h"

#include "ui/theme/icons.h"
#include "ui/theme/paint.h"
#include "ui/theme/theme.h"
#include "ui/widgets/text.h"

#include <QHBoxLayout>
#include <QKeyEvent>
#include <QPainter>
#include <QVBoxLayout>

#include <algorithm>

namespace milehold::ui {

namespace {

QColor colourOf(core::Severity severity, const Tokens& t) {
    switch (severity) {
    case core::Severity::Error:
        return t.dangerText;
    case core::Severity::Warning:
        return t.amberText;
    case core::Severity::Hint:
        break;
    }
    return t.inkSoft;
}

/// One finding of the list: a whole row that can be pressed.
class FindingRow : public QAbstractButton {
public:
    FindingRow(const core::Finding& finding, QWidget* parent)
        : QAbstractButton(parent), severity_(finding.severity) {
        setText(withLocalDates(toText(finding.message)));
        setAccessibleName(severityWord(severity_) + QStringLiteral(": ") + text());
        setFocusPolicy(Qt::StrongFocus);
        setAttribute(Qt::WA_Hover);
        setCursor(Qt::PointingHandCursor);
        QSizePolicy policy(QSizePolicy::Expanding, QSizePolicy::Fixed);
        policy.setHeightForWidth(true);
        setSizePolicy(policy);
    }

    bool hasHeightForWidth() const override { return true; }
    int heightForWidth(int width) const override {
        const QRect box = fontMetrics().boundingRect(QRect(0, 0, std::max(40, width - kLeft - kGrid), 4000),
                                                     Qt::TextWordWrap, text());
        return std::max(kControlHeight, box.height() + 12);
    }
    QSize sizeHint() const override { return {320, kControlHeight}; }

protected:
    void paintEvent(QPaintEvent*) override {
        QPainter painter(this);
        const Tokens& t = theme::tokensOf(this);
        if (underMouse())
            paint::box(painter, QRectF(rect()), mixed(t.surface, t.ink, 0.05), QColor());
        paintIcon(painter, QRectF(6, (height() - 18) / 2.0, 18, 18), severityIcon(severity_),
                  colourOf(severity_, t));
        painter.setPen(t.ink);
        painter.drawText(rect().adjusted(kLeft, 0, -kGrid, 0), Qt::AlignVCenter | Qt::TextWordWrap, text());
        if (hasFocus())
            paint::focusRing(painter, QRectF(rect()), t);
    }
    void keyPressEvent(QKeyEvent* event) override {
        if (event->key() == Qt::Key_Return || event->key() == Qt::Key_Enter) {
            click();
            return;
        }
        QAbstractButton::keyPressEvent(event);
    }

private:
    static constexpr int kLeft = 32;
    core::Severity severity_;
};

} // namespace

QString severityIcon(core::Severity severity) {
    switch (severity) {
    case core::Severity::Error:
        return QStringLiteral("error");
    case core::Severity::Warning:
        return QStringLiteral("warning");
    case core::Severity::Hint:
        break;
    }
    return QStringLiteral("info");
}

QString severityWord(core::Severity severity) {
    switch (severity) {
    case core::Severity::Error:
        return FindingList::tr("Must be put right");
    case core::Severity::Warning:
        return FindingList::tr("Please check");
    case core::Severity::Hint:
        break;
    }
    return FindingList::tr("Note");
}

InlineFinding::InlineFinding(QWidget* parent) : QWidget(parent), label_(new QLabel(this)) {
    auto* row = new QHBoxLayout(this);
    row->setContentsMargins(20, 2, 0, 0);
    row->setSpacing(0);
    label_->setWordWrap(true);
    label_->setFont(theme::font(TextRole::Small));
    row->addWidget(label_);
    hide();
}

void InlineFinding::setFindings(const core::Findings& findings) {
    const auto gravest = std::max_element(
        findings.begin(), findings.end(),
        [](const core::Finding& a, const core::Finding& b) { return a.severity < b.severity; });
    if (gravest == findings.end()) {
        label_->clear();
        setToolTip({});
        hide();
        return;
    }
    severity_ = gravest->severity;
    label_->setText(toText(gravest->message));
    QStringList all;
    for (const core::Finding& finding : findings)
        all << withLocalDates(toText(finding.message));
    setToolTip(all.size() > 1 ? all.join(u'\n') : QString());
    setAccessibleName(severityWord(severity_) + QStringLiteral(": ") + label_->text());
    // BrightText is the palette's danger, Text its ink: the words stay legible, the mark carries the colour.
    label_->setForegroundRole(severity_ == core::Severity::Error  ? QPalette::BrightText
                              : severity_ == core::Severity::Hint ? QPalette::PlaceholderText
                                                                  : QPalette::WindowText);
    show();
    update();
}

QString InlineFinding::text() const {
    return label_->text();
}

void InlineFinding::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    paintIcon(painter, QRectF(1, 3, 15, 15), severityIcon(severity_),
              colourOf(severity_, theme::tokensOf(this)));
}

FindingList::FindingList(QWidget* parent) : QWidget(parent), rows_(new QVBoxLayout(this)) {
    rows_->setContentsMargins(0, 0, 0, 0);
    rows_->setSpacing(2);
}

void FindingList::setFindings(const core::Findings& findings) {
    while (QLayoutItem* item = rows_->takeAt(0)) {
        // Not at once: a click on one of them may be what brought us here.
        item->widget()->hide();
        item->widget()->deleteLater();
        delete item;
    }
    core::Findings sorted = findings;
    std::stable_sort(sorted.begin(), sorted.end(),
                     [](const core::Finding& a, const core::Finding& b) { return a.severity > b.severity; });
    for (const core::Finding& finding : sorted) {
        auto* row = new FindingRow(finding, this);
        connect(row, &QAbstractButton::clicked, this,
                [this, field = toText(finding.field)] { emit fieldWanted(field); });
        rows_->addWidget(row);
        row->show();
    }
    setVisible(!sorted.empty());
}

} // namespace milehold::ui
