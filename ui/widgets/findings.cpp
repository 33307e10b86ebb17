// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/widgets/findings.h"

#include "ui/theme/icons.h"
#include "ui/theme/paint.h"
#include "ui/theme/theme.h"
#include "ui/widgets/text.h"

#include <QHBoxLayout>
#include <QPainter>

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
        return InlineFinding::tr("Must be put right");
    case core::Severity::Warning:
        return InlineFinding::tr("Please check");
    case core::Severity::Hint:
        break;
    }
    return InlineFinding::tr("Note");
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
    label_->setText(withLocalDates(toText(gravest->message)));
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

} // namespace milehold::ui
