// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/bay/job_section.h"

#include <map>
#include <vector>

class QLabel;
class QPushButton;
class QVBoxLayout;

namespace milehold::ui {

class EnginePlan;
class PartRow;

/// The parts that were fitted: tapped on the drawn engine, and listed with their lots.
///
/// A tile that is switched on gets the part that the path fits there, else the current phaser; what a tile
/// loses when it is switched off comes back when it is switched on again.
class PartsSection : public JobSection {
    Q_OBJECT
public:
    explicit PartsSection(QWidget* parent = nullptr);

    void setContext(const BayContext& context) override;
    void setVehicle(const core::Vehicle& vehicle) override;
    void showJob(const core::Job& job) override;
    void readInto(core::Job& job) const override;
    core::Findings setFindings(const core::Findings& findings) override;
    bool focusField(const QString& name) override;

private:
    const core::EngineFamily* family() const;
    void planChanged();
    void addPart();
    core::JobPart partFor(core::Position position) const;
    void dropRows();
    void fitRows();
    void showPlan();

    BayContext context_;
    core::Vehicle vehicle_;
    std::optional<core::RepairPathId> path_;
    std::vector<core::JobPart> parts_;
    std::map<core::Position, std::vector<core::JobPart>> lifted_; ///< taken off by a tap
    EnginePlan* plan_;
    QLabel* noPlan_;
    QVBoxLayout* rowStack_;
    std::vector<PartRow*> rows_;
    QPushButton* add_;
};

} // namespace milehold::ui
