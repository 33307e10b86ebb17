// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/bay/vehicle_picker.h"

#include "ui/theme/icons.h"
#include "ui/theme/theme.h"
#include "ui/widgets/search_box.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QListWidget>
#include <QPushButton>
#include <QVBoxLayout>

#include <algorithm>

namespace milehold::ui {
namespace {

constexpr int kWide = 640;
constexpr int kRow = 44;
constexpr int kMostRows = 6;

} // namespace

VehiclePicker::VehiclePicker(QWidget* parent)
    : QWidget(parent), search_(new SearchBox(this)), heading_(new QLabel(this)),
      inWork_(new QListWidget(this)) {
    auto* back = new QPushButton(icon(QStringLiteral("chevron-left")), tr("Back to the jobs"), this);
    theme::setRole(back, ButtonRole::Quiet);
    connect(back, &QPushButton::clicked, this, &VehiclePicker::closeWanted);

    auto* column = new QWidget(this);
    column->setFixedWidth(kWide);
    auto* rows = new QVBoxLayout(column);
    rows->setContentsMargins(0, 0, 0, 0);
    rows->setSpacing(kGrid);
    auto* title = new QLabel(tr("Whose vehicle?"), column);
    theme::setText(title, TextRole::Title);
    title->setBuddy(search_);
    rows->addWidget(title);
    auto* hint = new QLabel(
        tr("Scan the VIN, or type its last eight characters, the plate, the customer, the phone or "
           "a repair order."),
        column);
    theme::setText(hint, TextRole::Body, true);
    hint->setWordWrap(true);
    rows->addWidget(hint);
    search_->setObjectName(QStringLiteral("vehicleSearch"));
    search_->setAccessibleName(tr("Vehicle: scan or search"));
    search_->setPlaceholderText(tr("VIN, plate, name, phone, repair order"));
    theme::setLarge(search_);
    rows->addWidget(search_);
    rows->addSpacing(kMargin);
    heading_->setText(tr("In work: go on with"));
    theme::setText(heading_, TextRole::Lead);
    heading_->setBuddy(inWork_);
    rows->addWidget(heading_);
    inWork_->setObjectName(QStringLiteral("jobsInWork"));
    inWork_->setAccessibleName(tr("Jobs in work"));
    inWork_->setTextElideMode(Qt::ElideRight);
    inWork_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    rows->addWidget(inWork_);
    rows->addStretch(1);

    auto* stack = new QVBoxLayout(this);
    stack->setContentsMargins(kGap, kGap, kGap, kGap);
    stack->addWidget(back, 0, Qt::AlignLeft);
    stack->addSpacing(48);
    stack->addWidget(column, 1, Qt::AlignHCenter);
    connect(inWork_, &QListWidget::itemClicked, this,
            [this](QListWidgetItem* item) { emit jobChosen(jobs_[inWork_->row(item)].job); });
    connect(inWork_, &QListWidget::itemActivated, this,
            [this](QListWidgetItem* item) { emit jobChosen(jobs_[inWork_->row(item)].job); });
    setJobsInWork({});
}

void VehiclePicker::setJobsInWork(const QList<JobInWork>& jobs) {
    jobs_ = jobs;
    inWork_->clear();
    for (const auto& job : jobs) {
        auto* item = new QListWidgetItem(icon(QStringLiteral("wrench")), job.text, inWork_);
        item->setSizeHint({0, kRow});
    }
    heading_->setVisible(!jobs.isEmpty());
    inWork_->setVisible(!jobs.isEmpty());
    inWork_->setFixedHeight(std::min(static_cast<int>(jobs.size()), kMostRows) * kRow + 4);
}

void VehiclePicker::start() {
    search_->clear();
    search_->setFocus();
}

} // namespace milehold::ui
