// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/engine.h"
#include "core/shop/finding.h"
#include "core/shop/job.h"
#include "ui/bay/bay_context.h"
#include "ui/words/names.h"

#include <QWidget>

class QComboBox;
class QLineEdit;
class QToolButton;

namespace milehold::ui {

class DecimalField;
class InlineFinding;
class MoneyField;

/// One fitted part: where, which, its lot, how many, what it cost. Holds the part as it was given, and
/// changes only what the person changes. A part that is typed or scanned is looked up by the beginning of its
/// number.
class PartRow : public QWidget {
    Q_OBJECT
public:
    PartRow(const BayContext& context, const core::EngineFamily* family, QWidget* parent);

    /// `index` names the fields `parts[index].part` and so on.
    void setPart(const core::JobPart& part, int index);
    const core::JobPart& part() const { return part_; }
    void setFindings(const core::Findings& findings);
    bool focusField(const QString& member);

signals:
    void edited();
    void removed();

private:
    void fillParts(const BayContext& context);
    void choosePart();
    void showPart();

    core::JobPart part_;
    std::shared_ptr<const core::Shelf> shelf_;
    std::vector<core::PartNumberId> offered_;
    std::vector<core::Position> places_;
    QComboBox* place_;
    QComboBox* number_;
    QLineEdit* lot_;
    DecimalField* quantity_;
    MoneyField* cost_;
    QToolButton* remove_;
    InlineFinding* finding_;
};

} // namespace milehold::ui
