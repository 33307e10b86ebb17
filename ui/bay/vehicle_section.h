// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/finding.h"
#include "ui/bay/job_card.h"
#include "ui/bay/pickers.h"

class QCheckBox;
class QLineEdit;

namespace milehold::ui {

/// A vehicle and its customer, new or to be corrected.
class VehicleSection : public QWidget {
    Q_OBJECT
public:
    explicit VehicleSection(QWidget* parent = nullptr);

    void setContext(const BayContext& context);
    void showCard(const JobCard& card);
    /// Writes vehicle and customer; a customer of whom nothing was typed stays none.
    void readInto(JobCard& card) const;
    /// Fields are `vehicle.vin`, `customer.name` and so on; returns those that are not here.
    core::Findings setFindings(const core::Findings& findings);
    bool focusField(const QString& name);

signals:
    void edited(); ///< by the person

private:
    void finishVin();

    FormGrid* grid_;
    QLineEdit* vin_;
    QLineEdit* plate_;
    QLineEdit* year_;
    QLineEdit* maker_;
    QLineEdit* model_;
    RecordBox<core::EngineFamilyId>* family_;
    QLineEdit* note_;
    QLineEdit* name_;
    QLineEdit* phones_;
    QLineEdit* emails_;
    QLineEdit* bestTime_;
    QLineEdit* customerNote_;
    QCheckBox* doNotCall_;
    QString yearOfVin_; ///< the model year that the VIN so far has filled in
};

} // namespace milehold::ui
