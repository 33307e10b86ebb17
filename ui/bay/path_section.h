// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/bay/job_section.h"

class QLabel;
class QPushButton;

namespace milehold::ui {

class Cautions;
class InlineFinding;
class PathList;

/// How the vehicle was repaired: the paths that apply to it, and the cautions of the one that is chosen.
class PathSection : public JobSection {
    Q_OBJECT
public:
    explicit PathSection(QWidget* parent = nullptr);

    void setContext(const BayContext& context) override;
    void setVehicle(const core::Vehicle& vehicle) override;
    void showJob(const core::Job& job) override;
    void readInto(core::Job& job) const override;
    core::Findings setFindings(const core::Findings& findings) override;
    bool focusField(const QString& name) override;

    /// The calibration on the engine computer before the work, which decides too what applies.
    void setCalibration(const std::string& calibration);

signals:
    void pathChosen(); ///< by the person, before edited()

private:
    void fillPaths();
    void fillCautions();

    BayContext context_;
    core::Vehicle vehicle_;
    std::string calibration_;
    bool showAll_ = false;
    PathList* paths_;
    QPushButton* others_;
    InlineFinding* finding_;
    QLabel* nothing_;
    Cautions* cautions_;
};

} // namespace milehold::ui
