// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/bay/path_section.h"

#include "core/shop/applies.h"
#include "ui/bay/cautions.h"
#include "ui/bay/path_list.h"
#include "ui/theme/theme.h"
#include "ui/widgets/findings.h"
#include "ui/widgets/text.h"
#include "ui/words/amounts.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>

#include <algorithm>

namespace milehold::ui {

PathSection::PathSection(QWidget* parent)
    : JobSection(parent), paths_(new PathList(this)), others_(new QPushButton(this)),
      finding_(new InlineFinding(this)), nothing_(new QLabel(this)), cautions_(new Cautions(this)) {
    auto* stack = new QVBoxLayout(this);
    stack->setContentsMargins(0, 0, 0, 0);
    stack->setSpacing(kHalf);
    auto* head = new QHBoxLayout;
    auto* label = new QLabel(tr("Repair &path"), this);
    theme::setText(label, TextRole::Small, true);
    label->setBuddy(paths_);
    theme::setRole(others_, ButtonRole::Quiet);
    head->addWidget(label, 1);
    head->addWidget(others_);
    stack->addLayout(head);
    paths_->setObjectName(QStringLiteral("path"));
    paths_->setAccessibleName(tr("Repair path"));
    stack->addWidget(paths_);
    theme::setText(nothing_, TextRole::Body, true);
    nothing_->setWordWrap(true);
    stack->addWidget(nothing_);
    stack->addWidget(finding_);

    stack->addWidget(cautions_);
    stack->addStretch(1);

    connect(paths_, &PathList::chosen, this, [this] {
        fillCautions();
        emit pathChosen();
        emit edited();
    });
    connect(others_, &QPushButton::clicked, this, [this] {
        showAll_ = !showAll_;
        fillPaths();
    });
    fillPaths();
    fillCautions();
}

void PathSection::setContext(const BayContext& context) {
    context_ = context;
    fillPaths();
    fillCautions();
}

void PathSection::setVehicle(const core::Vehicle& vehicle) {
    vehicle_ = vehicle;
    fillPaths();
}

void PathSection::setCalibration(const std::string& calibration) {
    if (calibration_ == calibration)
        return;
    calibration_ = calibration;
    fillPaths();
}

void PathSection::showJob(const core::Job& job) {
    calibration_ = job.calibrationBefore;
    paths_->setPath(job.path);
    fillPaths();
    fillCautions();
}

void PathSection::readInto(core::Job& job) const {
    job.path = paths_->path();
}

void PathSection::fillPaths() {
    const core::Shelf& shelf = *context_.shelf;
    std::vector<PathRow> rows;
    int hidden = 0;
    for (const auto& path : shelf.paths) {
        const bool chosen = paths_->path() == path.id;
        if (!path.active && !chosen)
            continue;
        PathRow row{path.id, toText(path.name), {}, true, false};
        row.applies = core::appliesTo(path, vehicle_.family, vehicle_.modelYear, calibration_, shelf);
        row.stale = context_.today.ok() && core::isStale(path.freshness, context_.today);
        row.detail =
            tr("%1 · %2").arg(hoursText(path.hours), priceText(path.price, context_.settings.currency));
        if (!row.applies && !chosen && !showAll_) {
            ++hidden;
            continue;
        }
        rows.push_back(std::move(row));
    }
    std::stable_partition(rows.begin(), rows.end(), [](const PathRow& row) { return row.applies; });
    const bool any = !rows.empty();
    paths_->setPaths(std::move(rows));
    paths_->setPath(paths_->path());
    others_->setVisible(hidden > 0 || showAll_);
    others_->setText(showAll_ ? tr("Only what applies") : tr("Show %1 more").arg(hidden));
    paths_->setVisible(any); // an empty frame would look like a field to type into
    nothing_->setVisible(!any);
    nothing_->setText(
        !vehicle_.family      ? tr("Say which engine family the vehicle has, and its paths stand here.")
        : shelf.paths.empty() ? tr("No repair paths on the shelf yet. Add the first one in the Shelf.")
                              : tr("No path on the shelf is listed for this engine and model year."));
}

void PathSection::fillCautions() {
    cautions_->setPath(paths_->path() ? context_.shelf->find(*paths_->path()) : nullptr);
}

core::Findings PathSection::setFindings(const core::Findings& findings) {
    core::Findings own;
    core::Findings rest;
    for (const auto& finding : findings)
        (finding.field == "path" ? own : rest).push_back(finding);
    finding_->setFindings(own);
    return rest;
}

bool PathSection::focusField(const QString& name) {
    if (name != QLatin1String("path"))
        return false;
    QWidget* place = paths_->isVisibleTo(this) ? static_cast<QWidget*>(paths_) : others_;
    if (!place->isVisibleTo(this))
        return false;
    place->setFocus(Qt::ShortcutFocusReason);
    return true;
}

} // namespace milehold::ui
