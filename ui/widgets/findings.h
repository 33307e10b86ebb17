// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/finding.h"

#include <QLabel>
#include <QWidget>

namespace milehold::ui {

/// What validation says about one field, right under it: a shape, the words, the colour. Hidden while there
/// is nothing.
class InlineFinding : public QWidget {
    Q_OBJECT
public:
    explicit InlineFinding(QWidget* parent = nullptr);
    /// Shows the gravest of them; the others go into the tooltip.
    void setFindings(const core::Findings& findings);
    void clear() { setFindings({}); }
    QString text() const;

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    QLabel* label_;
    core::Severity severity_ = core::Severity::Hint;
};

/// The icon's name and the word for a severity.
QString severityIcon(core::Severity severity);
QString severityWord(core::Severity severity);

} // namespace milehold::ui
