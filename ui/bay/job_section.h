// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/finding.h"
#include "core/shop/job.h"
#include "core/shop/vehicle.h"
#include "ui/bay/bay_context.h"

#include <QComboBox>
#include <QString>
#include <QWidget>

#include <map>
#include <string>

namespace milehold::ui {

class FormGrid;

/// Some fields of a job that stand together. Knows no other section; the form that holds them hands the job
/// through.
class JobSection : public QWidget {
    Q_OBJECT
public:
    using QWidget::QWidget;

    /// Choices, unit and currency. Keeps what is typed.
    virtual void setContext(const BayContext& context) = 0;
    /// The vehicle whose engine the choices are for.
    virtual void setVehicle(const core::Vehicle& vehicle) { Q_UNUSED(vehicle) }
    virtual void showJob(const core::Job& job) = 0;
    /// Writes this section's members and leaves the others.
    virtual void readInto(core::Job& job) const = 0;

    /// Shows each finding at its field; returns those that no field of this section shows.
    virtual core::Findings setFindings(const core::Findings& findings);
    /// Puts the keyboard into the named field; false when it is not here.
    virtual bool focusField(const QString& name);

signals:
    void edited(); ///< by the person

protected:
    /// The grid that setFindings() and focusField() go to.
    void setGrid(FormGrid* grid) { grid_ = grid; }

private:
    FormGrid* grid_ = nullptr;
};

/// Text that is no value yet, in all fields below `root`, by object name.
std::map<std::string, std::string> unfinishedText(const QWidget* root);
void restoreUnfinished(QWidget* root, const std::map<std::string, std::string>& texts);
/// An error for each of these fields: such text would be lost in a save.
core::Findings unfinishedFindings(const QWidget* root, const std::map<std::string, std::string>& texts);

/// Keeps the wheel, which scrolls the form, from changing a value on its way.
void ignoreWheel(QWidget* field);

} // namespace milehold::ui
