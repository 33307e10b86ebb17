// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/bay/parts_section.h"

#include "ui/bay/part_row.h"
#include "ui/theme/icons.h"
#include "ui/theme/theme.h"
#include "ui/widgets/engine_plan.h"
#include "ui/widgets/text.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QRegularExpression>
#include <QVBoxLayout>

#include <algorithm>
#include <set>

namespace milehold::ui {

PartsSection::PartsSection(QWidget* parent)
    : JobSection(parent), plan_(new EnginePlan(this)), noPlan_(new QLabel(this)), rowStack_(new QVBoxLayout),
      add_(new QPushButton(tr("&Add a part"), this)) {
    auto* stack = new QVBoxLayout(this);
    stack->setContentsMargins(0, 0, 0, 0);
    stack->setSpacing(kGrid);
    plan_->setObjectName(QStringLiteral("plan"));
    stack->addWidget(plan_);
    noPlan_->setText(tr("The engine is drawn here once the vehicle has an engine family."));
    noPlan_->setWordWrap(true);
    theme::setText(noPlan_, TextRole::Body, true);
    stack->addWidget(noPlan_);
    rowStack_->setSpacing(kHalf);
    stack->addLayout(rowStack_);
    auto* foot = new QHBoxLayout;
    add_->setObjectName(QStringLiteral("addPart"));
    add_->setIcon(icon(QStringLiteral("add")));
    theme::setRole(add_, ButtonRole::Quiet);
    foot->addWidget(add_);
    foot->addStretch(1);
    stack->addLayout(foot);
    stack->addStretch(1);
    connect(plan_, &EnginePlan::chosenChanged, this, &PartsSection::planChanged);
    connect(add_, &QPushButton::clicked, this, &PartsSection::addPart);
    showPlan();
}

const core::EngineFamily* PartsSection::family() const {
    return vehicle_.family ? context_.shelf->find(*vehicle_.family) : nullptr;
}

void PartsSection::setContext(const BayContext& context) {
    const bool same = context.shelf == context_.shelf && context.settings == context_.settings;
    context_ = context;
    if (same)
        return;
    showPlan();
    dropRows();
    fitRows();
}

void PartsSection::setVehicle(const core::Vehicle& vehicle) {
    const bool sameEngine = vehicle.family == vehicle_.family;
    vehicle_ = vehicle;
    if (sameEngine)
        return;
    lifted_.clear();
    showPlan();
    dropRows();
    fitRows();
}

void PartsSection::showJob(const core::Job& job) {
    path_ = job.path;
    if (parts_ == job.parts && rows_.size() == parts_.size()) {
        showPlan();
        return;
    }
    parts_ = job.parts;
    showPlan();
    fitRows();
}

void PartsSection::readInto(core::Job& job) const {
    job.parts = parts_;
}

void PartsSection::showPlan() {
    const core::EngineFamily* engine = family();
    plan_->setVisible(engine != nullptr);
    noPlan_->setVisible(engine == nullptr);
    if (!engine)
        return;
    PhaserStates states;
    std::set<core::Position> chosen;
    for (const auto& part : parts_) {
        if (!part.position)
            continue;
        chosen.insert(*part.position);
        const core::PartNumber* known = context_.shelf->find(part.part);
        PhaserState& state = states[*part.position];
        // A phaser names the tile; a valve alone leaves the phaser as it was.
        const bool phaser = !known || known->component == core::Component::Phaser;
        if (phaser)
            state.work = PhaserWork::Replaced;
        if (known && (phaser || state.caption.isEmpty()))
            state.caption = partName(*known);
    }
    if (static_cast<std::size_t>(std::count_if(engine->positions.begin(), engine->positions.end(),
                                               [this](core::Position position) {
                                                   const auto& drawn = plan_->positions();
                                                   return std::find(drawn.begin(), drawn.end(), position) !=
                                                          drawn.end();
                                               })) != engine->positions.size() ||
        plan_->positions().size() != engine->positions.size())
        plan_->setEngine(engine->banks, engine->positions);
    plan_->setStates(states);
    plan_->setChosen(chosen);
}

core::JobPart PartsSection::partFor(core::Position position) const {
    core::JobPart part;
    part.position = position;
    if (const core::RepairPath* path = path_ ? context_.shelf->find(*path_) : nullptr)
        for (const auto& fitted : path->parts)
            if (fitted.position == position) {
                part.part = core::newestOf(*context_.shelf, fitted.part);
                part.quantity = fitted.quantity;
                return part;
            }
    // No default: the phaser that this job fits elsewhere, else the first current one on the shelf.
    const auto isPhaser = [this](core::PartNumberId id) {
        const core::PartNumber* known = context_.shelf->find(id);
        return known && known->component == core::Component::Phaser;
    };
    for (const auto& fitted : parts_)
        if (fitted.position && isPhaser(fitted.part)) {
            part.part = fitted.part;
            return part;
        }
    for (const auto& known : context_.shelf->parts)
        if (known.component == core::Component::Phaser && !known.supersededBy) {
            part.part = known.id;
            return part;
        }
    return part;
}

void PartsSection::planChanged() {
    const std::set<core::Position> chosen = plan_->chosen();
    for (const auto position : plan_->positions()) {
        const auto isThere = [&](const core::JobPart& part) { return part.position == position; };
        const bool fitted = std::any_of(parts_.begin(), parts_.end(), isThere);
        if (fitted && !chosen.contains(position)) {
            auto& kept = lifted_[position];
            kept.clear();
            std::copy_if(parts_.begin(), parts_.end(), std::back_inserter(kept), isThere);
            std::erase_if(parts_, isThere);
        } else if (!fitted && chosen.contains(position)) {
            if (const auto kept = lifted_.find(position); kept != lifted_.end() && !kept->second.empty())
                parts_.insert(parts_.end(), kept->second.begin(), kept->second.end());
            else
                parts_.push_back(partFor(position));
        }
    }
    showPlan();
    fitRows();
    emit edited();
}

void PartsSection::addPart() {
    parts_.push_back({});
    fitRows();
    rows_.back()->focusField(QStringLiteral("part"));
    emit edited();
}

void PartsSection::dropRows() {
    for (auto* row : rows_) {
        row->hide();
        row->deleteLater(); // one of them may be the sender
    }
    rows_.clear();
}

void PartsSection::fitRows() {
    while (rows_.size() > parts_.size()) {
        rows_.back()->hide();
        rows_.back()->deleteLater();
        rows_.pop_back();
    }
    while (rows_.size() < parts_.size()) {
        auto* row = new PartRow(context_, family(), this);
        const std::size_t i = rows_.size();
        rowStack_->addWidget(row);
        rows_.push_back(row);
        connect(row, &PartRow::edited, this, [this, row, i] {
            parts_[i] = row->part();
            showPlan();
            emit edited();
        });
        connect(row, &PartRow::removed, this, [this, i] {
            parts_.erase(parts_.begin() + static_cast<std::ptrdiff_t>(i));
            showPlan();
            fitRows();
            add_->setFocus();
            emit edited();
        });
    }
    for (std::size_t i = 0; i < rows_.size(); ++i)
        rows_[i]->setPart(parts_[i], static_cast<int>(i));
}

core::Findings PartsSection::setFindings(const core::Findings& findings) {
    std::vector<core::Findings> own(rows_.size());
    core::Findings rest;
    for (const auto& finding : findings) {
        static const QRegularExpression entry(QStringLiteral("^parts\\[(\\d+)\\]"));
        const auto match = entry.match(toText(finding.field));
        const auto row = match.hasMatch() ? match.captured(1).toUInt() : rows_.size();
        (row < rows_.size() ? own[row] : rest).push_back(finding);
    }
    for (std::size_t i = 0; i < rows_.size(); ++i)
        rows_[i]->setFindings(own[i]);
    return rest;
}

bool PartsSection::focusField(const QString& name) {
    static const QRegularExpression entry(QStringLiteral("^parts\\[(\\d+)\\]\\.?(\\w*)"));
    if (const auto match = entry.match(name); match.hasMatch() && match.captured(1).toUInt() < rows_.size())
        return rows_[match.captured(1).toUInt()]->focusField(match.captured(2));
    if (name != QLatin1String("parts"))
        return false;
    plan_->setFocus(Qt::ShortcutFocusReason);
    return true;
}

} // namespace milehold::ui
