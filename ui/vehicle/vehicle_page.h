// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/history.h"
#include "core/life/life.h"
#include "core/shop/people.h"
#include "core/shop/shelf.h"
#include "ui/vehicle/vehicle_events.h"

#include <QDialog>

#include <memory>
#include <optional>
#include <vector>

class QLabel;
class QPushButton;
class QStandardItemModel;

namespace milehold::ui {

class OdometerLine;
class ReasonRow;
class RecordTable;
class VehicleLineView;

struct VehiclePageContent {
    core::VehicleHistory history;
    std::vector<core::Life> lives;
    core::YearlyDistance yearly;
    std::optional<core::Customer> customer;
    std::vector<core::Attachment> files; ///< of its jobs
    std::shared_ptr<const core::Shelf> shelf = std::make_shared<const core::Shelf>();
    core::DistanceUnit unit = core::DistanceUnit::Miles;
};

/// One vehicle: its past on a line, everything that happened in one list, and its yearly distance with the
/// readings behind it. Return on a row opens its job or its file, Escape closes the page. An answer that was
/// logged by mistake is voided here with a reason, and counted again.
class VehiclePage : public QDialog {
    Q_OBJECT
public:
    explicit VehiclePage(VehiclePageContent content, QWidget* parent = nullptr);

    const std::vector<VehicleEvent>& events() const { return events_; }
    core::VehicleId vehicle() const { return content_.history.vehicle.id; }

signals:
    void jobWanted(milehold::core::JobId job);
    void newJobWanted(milehold::core::VehicleId vehicle);
    void quoteWanted(milehold::core::VehicleId vehicle);
    void fileWanted(milehold::core::AttachmentId file);
    void voidWanted(milehold::core::FollowUpId call, qint64 revision, const QString& reason);
    void countAgainWanted(milehold::core::FollowUpId call, qint64 revision);

private:
    void fillEvents();
    void fillYearly();
    QWidget* makeHead();
    QWidget* makeYearly();
    void openRow(int row);
    QWidget* makeFoot();
    const VehicleEvent* chosen() const;
    void showChosen();
    void turnCall();

    VehiclePageContent content_;
    std::vector<VehicleEvent> events_;
    VehicleLineView* line_;
    RecordTable* table_;
    QStandardItemModel* model_;
    OdometerLine* chart_;
    QLabel* yearly_;
    ReasonRow* reason_;
    QPushButton* void_;
};

} // namespace milehold::ui
