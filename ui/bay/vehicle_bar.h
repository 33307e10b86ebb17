// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/history.h"
#include "core/life/life.h"
#include "ui/bay/bay_context.h"
#include "ui/bay/job_card.h"

#include <QWidget>

class QLabel;
class QToolButton;

namespace milehold::ui {

class EngineSign;
class VehicleLineView;

/// Whose sheet this is: the vehicle, its customer, its engine in small, and its past on one line.
class VehicleBar : public QWidget {
    Q_OBJECT
public:
    explicit VehicleBar(QWidget* parent = nullptr);

    void setContext(const BayContext& context);
    void setCard(const JobCard& card);
    void setPast(const core::VehicleHistory& past, const std::vector<core::Life>& lives);
    VehicleLineView* line() const { return line_; }

signals:
    void closeWanted();
    void vehicleEditToggled();
    void jobActivated(milehold::core::JobId job);

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    BayContext context_;
    QToolButton* back_;
    QLabel* heading_;
    QLabel* title_;
    QLabel* detail_;
    EngineSign* engine_;
    QToolButton* edit_;
    VehicleLineView* line_;
};

} // namespace milehold::ui
