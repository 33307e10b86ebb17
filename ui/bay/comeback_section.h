// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/history.h"
#include "ui/bay/pickers.h"

#include <array>
#include <vector>

class QLabel;
class QPushButton;

namespace milehold::ui {

class Card;
class DateField;
class MoneyField;

/// Whether an earlier repair of this vehicle has come back. The program proposes which one; a person says
/// what became of it, and why; what it cost by kind and the supplier's claim with its state are folded away
/// until they are wanted. Hidden while there is nothing to decide.
class ComebackSection : public JobSection {
    Q_OBJECT
public:
    explicit ComebackSection(QWidget* parent = nullptr);

    void setContext(const BayContext& context) override;
    void showJob(const core::Job& job) override;
    void readInto(core::Job& job) const override;
    core::Findings setFindings(const core::Findings& findings) override;
    bool focusField(const QString& name) override;

    /// The vehicle's record, in which earlier repairs are looked for.
    void setPast(const core::VehicleHistory& past);
    /// Looks anew for an earlier repair after the job was edited.
    void propose(const core::Job& job);
    bool isAsking() const;

private:
    void makeQuestion();
    void makeAnswer();
    void makeCosts();
    void decide(core::ComebackDecision decision);
    void unfoldCosts(bool open);
    QString foldedText() const;
    core::ComebackCosts kindsTyped() const;
    std::vector<MoneyField*> amounts() const;
    bool isAnythingTyped() const;
    void fillEarlier();
    void updateParts();
    QString describe(core::JobId id) const;

    BayContext context_;
    core::VehicleHistory past_;
    core::Job job_;
    std::optional<core::JobId> proposed_;
    Card* card_;
    QLabel* question_;
    QWidget* asking_;
    QWidget* decided_;
    FormGrid* grid_;
    QLabel* effect_;
    QPushButton* unfold_;
    FormGrid* costGrid_;
    RecordBox<core::JobId>* earlier_;
    QComboBox* decision_;
    RecordBox<core::StaffId>* decidedBy_;
    QLineEdit* reason_;
    QComboBox* payer_;
    std::array<MoneyField*, 6> kinds_; ///< in the order of kCostKinds
    MoneyField* cost_;                 ///< any other
    QComboBox* claimState_;
    QLineEdit* claim_;
    DateField* deadline_;
    MoneyField* claimed_;
};

} // namespace milehold::ui
