// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/life.h"
#include "ui/bay/job_form.h"
#include "ui/bay/vehicle_picker.h"
#include "ui/widgets/search_box.h"

#include <QVariant>
#include <QWidget>

class QLineEdit;
class QPushButton;
class QStackedWidget;

namespace milehold::ui {

class InstrumentRow;
class MessageBar;
class VehicleBar;

/// One job's sheet: first whose vehicle it is, then its form, its past above and its save below.
///
/// Saving asks at most once: errors are shown and stop it, warnings turn the button into "Save anyway".
class JobSheet : public QWidget {
    Q_OBJECT
public:
    explicit JobSheet(QWidget* parent = nullptr);

    void setContext(const BayContext& context);
    /// A new job of which the vehicle is still to be found.
    void askForVehicle(const JobCard& blank);
    void setVehicleResults(const QString& query, const QList<SearchResult>& results);
    /// Jobs that can be gone on with instead of starting one.
    void setJobsInWork(const QList<JobInWork>& jobs);
    /// A job with its vehicle; see JobForm::setCard. The vehicle's own fields are open when it is new.
    void open(const JobCard& stored, const JobCard& shown, const core::VehicleHistory& past,
              const std::vector<core::Life>& lives);

    JobForm* form() const { return form_; }
    SearchBox* vehicleSearch() const;
    bool isAskingForVehicle() const;
    const core::VehicleHistory& past() const { return past_; }
    /// The record has grown while the sheet was open.
    void setPast(const core::VehicleHistory& past, const std::vector<core::Life>& lives);

    /// A line over the form that stays until it is answered; one per id.
    void showNotice(const QString& id, const QString& text, const QStringList& actions, bool needsYou = true);
    void removeNotice(const QString& id);
    /// While a save is under way the sheet can be read but not saved a second time.
    void setSaving(bool saving);
    /// Starts a save as the button does.
    void save();

signals:
    void vehicleQueried(const QString& query);
    void vehicleChosen(const QVariant& key);
    void saveWanted(); ///< checked, and what it warns of was overruled
    void voidWanted(const QString& reason);
    void unvoidWanted();
    void closeWanted();
    void jobActivated(milehold::core::JobId job);
    void noticeAnswered(const QString& id, int action);
    void instrumentReplaced(const milehold::core::OdometerReading& reading);
    void edited();
    void fieldLeft();

protected:
    void keyPressEvent(QKeyEvent* event) override;
    bool focusNextPrevChild(bool next) override;

private:
    void makeActions();
    void onEdited();
    void updateActions();
    void askToVoid(bool ask);
    void listFindings(const core::Findings& findings, const QString& text);
    void goToNextFinding();

    BayContext context_;
    core::VehicleHistory past_;
    QStackedWidget* pages_;
    VehiclePicker* picker_;
    VehicleBar* bar_;
    MessageBar* notices_;
    JobForm* form_;
    QPushButton* todo_ = nullptr; ///< what stands in the way of a save; goes from one to the next
    QPushButton* voidButton_ = nullptr;
    QPushButton* saveButton_ = nullptr;
    QWidget* voidRow_ = nullptr;
    QLineEdit* voidReason_ = nullptr;
    InstrumentRow* instrument_;
    std::string lastFinding_; ///< the field that F8 went to last
    bool asked_ = false;
    bool saving_ = false;
};

} // namespace milehold::ui
