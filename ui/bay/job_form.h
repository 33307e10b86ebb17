// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/history.h"
#include "ui/bay/bay_context.h"
#include "ui/bay/job_card.h"
#include "ui/bay/job_section.h"

#include <QWidget>

#include <map>
#include <set>
#include <string>
#include <vector>

class QHBoxLayout;
class QScrollArea;
class QTimer;

namespace milehold::ui {

class ArrivalSection;
class ComebackSection;
class ConcernSection;
class DeliverySection;
class FoundSection;
class PartsSection;
class PathSection;
class Segmented;
class VehicleSection;
class WorkSection;

/// The job sheet's fields: a card in, a card out. Knows no database; what nobody touched comes back exactly
/// as it was.
class JobForm : public QWidget {
    Q_OBJECT
public:
    explicit JobForm(QWidget* parent = nullptr);

    void setContext(const BayContext& context);
    /// `stored` is what edits are counted from, `shown` what the fields start with (a draft, a merge, a job
    /// with a few things filled in); equal for a record as it was read.
    void setCard(const JobCard& stored, const JobCard& shown);
    void setCard(const JobCard& card) { setCard(card, card); }
    JobCard card() const; ///< what was shown, with the edits applied
    const JobCard& stored() const { return stored_; }
    bool isEdited() const { return card() != stored_ || !unfinished().empty(); }
    /// The vehicle's record so far, for the odometer's sanity and the comeback.
    void setPast(const core::VehicleHistory& past);

    /// Text that is no value yet, by object name; and back.
    std::map<std::string, std::string> unfinished() const;
    void setUnfinished(const std::map<std::string, std::string>& texts);

    /// All that is to be said about the card as it stands, whether it is on view yet or not.
    core::Findings findings() const;
    /// From now on every finding is on view, not only those of fields that somebody has been in.
    void showAllFindings();
    /// Nobody has been in any field yet: what is empty is not called wrong.
    void forgetVisits();
    bool focusField(const QString& name);
    /// Where a new card starts, or an old one is looked at.
    void focusFirst();

    void setVehicleShown(bool shown);
    bool isVehicleShown() const;
    /// To the right of the delivery check, for whoever saves.
    QHBoxLayout* actions() const { return actions_; }

signals:
    void edited();    ///< by the person
    void fieldLeft(); ///< the keyboard went on to another field
    void instrumentReplaced();

private:
    void build();
    void layOut();
    void show(const JobCard& card);
    JobCard read(const JobCard& base) const;
    void onEdited();
    void onVehicleEdited();
    void onPathChosen();
    void onKindOrStage();
    void updateStage();
    void refreshFindings();
    void showField(const QWidget* field);
    bool isOnView(const core::Finding& finding) const;
    std::vector<JobSection*> sections() const;

    BayContext context_;
    core::VehicleHistory past_;
    JobCard stored_;                              ///< edits are counted from it
    JobCard base_;                                ///< what the fields were last filled from
    JobCard shown_;                               ///< what they gave back right after
    std::map<std::string, std::string> oddTexts_; ///< stored values that a field can show but not read

    Segmented* kind_;
    Segmented* stage_;
    ComebackSection* comeback_;
    VehicleSection* vehicle_;
    ArrivalSection* arrival_;
    PathSection* path_;
    PartsSection* parts_;
    ConcernSection* concern_;
    FoundSection* found_;
    WorkSection* work_;
    DeliverySection* delivery_;
    QWidget* repairOnly_ = nullptr;
    QScrollArea* scroll_;
    QHBoxLayout* actions_;
    QTimer* rest_; ///< of typing, before findings about a half-typed value are shown
    std::set<QString> visited_;
    bool showAll_ = false;
};

} // namespace milehold::ui
