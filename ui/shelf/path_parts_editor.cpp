// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/shelf/path_parts_editor.h"

#include "ui/shelf/choices.h"
#include "ui/shelf/plain_fields.h"
#include "ui/theme/icons.h"
#include "ui/theme/theme.h"
#include "ui/widgets/engine_plan.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QToolButton>
#include <QVBoxLayout>

#include <algorithm>
#include <set>

namespace milehold::ui {
namespace {

constexpr int kQuantityWidth = 52;
constexpr int kButtonWidth = 32;

/// A combo box that the wheel of the page passes over.
class StillCombo : public QComboBox {
public:
    using QComboBox::QComboBox;

protected:
    void wheelEvent(QWheelEvent* event) override { event->ignore(); }
};

QString codeOf(const std::optional<core::Position>& position) {
    return position ? toText(core::toCode(*position)) : QString();
}

} // namespace

PathPartsEditor::PathPartsEditor(QWidget* parent)
    : QWidget(parent), plan_(new EnginePlan(this)), next_(new IdCombo(tr("Choose a part"), this)),
      add_(new QPushButton(icon(QStringLiteral("add")), QString(), this)), list_(new QVBoxLayout) {
    auto* stack = new QVBoxLayout(this);
    stack->setContentsMargins(0, 0, 0, 0);
    stack->setSpacing(kGrid);
    stack->addWidget(plan_);
    auto* bar = new QHBoxLayout;
    bar->setSpacing(kGrid);
    next_->setAccessibleName(tr("Part to add"));
    bar->addWidget(next_, 1);
    bar->addWidget(add_);
    stack->addLayout(bar);
    list_->setSpacing(kHalf);
    stack->addLayout(list_);
    setFocusProxy(next_);
    connect(plan_, &EnginePlan::chosenChanged, this, &PathPartsEditor::wordButton);
    connect(next_, &IdCombo::edited, this, &PathPartsEditor::wordButton);
    connect(add_, &QPushButton::clicked, this, &PathPartsEditor::addChosen);
    wordButton();
}

void PathPartsEditor::wordButton() {
    const auto chosen = plan_->chosen().size();
    add_->setText(chosen == 0 ? tr("Add without a position")
                              : tr("Add to %n position(s)", "", static_cast<int>(chosen)));
    add_->setEnabled(next_->chosen().has_value());
}

void PathPartsEditor::setShelf(const core::Shelf& shelf) {
    shelf_ = shelf;
    next_->setItems(partChoices(shelf_, false));
    for (const Row& row : rows_)
        row.part->setItems(partChoices(shelf_, true));
    showOnPlan();
    wordButton();
}

void PathPartsEditor::setFamilies(const std::vector<core::EngineFamilyId>& families) {
    std::set<core::Position> places;
    const core::EngineFamily* drawn = nullptr;
    for (const core::EngineFamilyId& id : families) {
        const core::EngineFamily* family = shelf_.find(id);
        if (family == nullptr)
            continue;
        places.insert(family->positions.begin(), family->positions.end());
        if (drawn == nullptr || family->positions.size() > drawn->positions.size())
            drawn = family;
    }
    const std::vector<core::Position> positions(places.begin(), places.end());
    const core::EngineFamily engine = drawn != nullptr ? *drawn : core::EngineFamily{};
    if (positions == positions_ && engine.id == drawn_)
        return;
    positions_ = positions;
    drawn_ = engine.id;
    banks_ = engine.banks;
    plan_->setEngine(engine.banks, engine.positions);
    plan_->setVisible(!positions_.empty());
    for (const Row& row : rows_)
        fillPositions(*row.position, core::positionFromCode(toUtf8(row.position->currentData().toString())));
    showOnPlan();
    wordButton();
}

void PathPartsEditor::fillPositions(QComboBox& combo, const std::optional<core::Position>& keep) const {
    const QSignalBlocker quiet(&combo);
    combo.clear();
    combo.addItem(tr("No position"), QString());
    for (const core::Position& position : positions_)
        combo.addItem(positionName(position, banks_), toText(core::toCode(position)));
    if (keep && combo.findData(codeOf(keep)) < 0)
        combo.addItem(positionName(*keep, 2), codeOf(keep));
    combo.setCurrentIndex(combo.findData(codeOf(keep)));
}

void PathPartsEditor::addRow(const core::PathPart& part) {
    Row row;
    row.widget = new QWidget(this);
    auto* layout = new QHBoxLayout(row.widget);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->setSpacing(kGrid);
    row.part = new IdCombo(tr("Choose a part"), row.widget);
    row.part->setItems(partChoices(shelf_, true));
    row.part->setChosen(part.part.isNull() ? std::nullopt : std::optional(part.part.uuid));
    row.part->setAccessibleName(tr("Part"));
    row.position = new StillCombo(row.widget);
    row.position->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
    row.position->setMinimumContentsLength(8);
    row.position->setAccessibleName(tr("Position"));
    fillPositions(*row.position, part.position);
    row.quantity = new WholeField(row.widget);
    row.quantity->setFixedWidth(kQuantityWidth);
    row.quantity->setAlignment(Qt::AlignRight);
    row.quantity->setValue(part.quantity);
    row.quantity->setAccessibleName(tr("Quantity"));
    auto* remove = new QToolButton(row.widget);
    remove->setIcon(icon(QStringLiteral("close")));
    remove->setFixedWidth(kButtonWidth);
    remove->setAutoRaise(true);
    remove->setToolTip(tr("Take this part off the list"));
    remove->setAccessibleName(remove->toolTip());
    layout->addWidget(row.part, 4);
    layout->addWidget(row.position, 3);
    layout->addWidget(row.quantity);
    layout->addWidget(remove);
    connect(row.part, &IdCombo::edited, this, &PathPartsEditor::touched);
    connect(row.position, &QComboBox::activated, this, &PathPartsEditor::touched);
    connect(row.quantity, &WholeField::edited, this, &PathPartsEditor::touched);
    connect(remove, &QToolButton::clicked, this, [this, widget = row.widget] { removeRow(widget); });
    list_->addWidget(row.widget);
    rows_.push_back(row);
    nameFields();
}

void PathPartsEditor::nameFields() {
    for (std::size_t i = 0; i < rows_.size(); ++i)
        rows_[i].quantity->setObjectName(QStringLiteral("parts%1.quantity").arg(i));
}

void PathPartsEditor::removeRow(QWidget* widget) {
    const auto row =
        std::find_if(rows_.begin(), rows_.end(), [&](const Row& r) { return r.widget == widget; });
    if (row == rows_.end())
        return;
    row->quantity->setObjectName({});
    rows_.erase(row);
    nameFields();
    widget->hide(); // its own button is on the way out of a click
    widget->deleteLater();
    (rows_.empty() ? next_ : rows_.back().part)->setFocus(Qt::ShortcutFocusReason);
    touched();
}

void PathPartsEditor::addChosen() {
    const auto part = next_->id<core::PartNumberId>();
    if (!part)
        return;
    const std::set<core::Position> chosen = plan_->chosen();
    if (chosen.empty())
        addRow({*part, std::nullopt, 1});
    for (const core::Position& position : chosen) {
        // A position holds one phaser and one valve: the same kind of component is replaced, not added.
        const core::PartNumber* added = shelf_.find(*part);
        const auto same = std::find_if(rows_.begin(), rows_.end(), [&](const Row& row) {
            const auto id = row.part->id<core::PartNumberId>();
            const core::PartNumber* there = id ? shelf_.find(*id) : nullptr;
            return row.position->currentData().toString() == codeOf(position) && there != nullptr &&
                   added != nullptr && there->component == added->component;
        });
        if (same != rows_.end())
            same->part->setChosen(part->uuid);
        else
            addRow({*part, position, 1});
    }
    plan_->setChosen({});
    next_->setChosen(std::nullopt);
    touched();
}

void PathPartsEditor::touched() {
    showOnPlan();
    wordButton();
    emit edited();
}

void PathPartsEditor::showOnPlan() {
    PhaserStates states;
    for (const core::PathPart& fitted : parts()) {
        const core::PartNumber* part = shelf_.find(fitted.part);
        if (!fitted.position || part == nullptr)
            continue;
        PhaserState& state = states[*fitted.position];
        state.work = PhaserWork::Replaced;
        state.caption += (state.caption.isEmpty() ? QString() : QStringLiteral(", ")) + partName(*part);
    }
    plan_->setStates(states);
}

void PathPartsEditor::setParts(const std::vector<core::PathPart>& parts) {
    for (const Row& row : rows_) {
        row.quantity->setObjectName({});
        row.widget->hide();
        row.widget->deleteLater();
    }
    rows_.clear();
    for (const core::PathPart& part : parts)
        addRow(part);
    plan_->setChosen({});
    next_->setChosen(std::nullopt);
    showOnPlan();
    wordButton();
}

std::vector<core::PathPart> PathPartsEditor::parts() const {
    std::vector<core::PathPart> result;
    for (const Row& row : rows_) {
        core::PathPart part;
        part.part.uuid = row.part->chosen().value_or(core::Uuid{});
        part.position = core::positionFromCode(toUtf8(row.position->currentData().toString()));
        part.quantity = row.quantity->value().value_or(0);
        result.push_back(part);
    }
    return result;
}

bool PathPartsEditor::hasValidText() const {
    return std::all_of(rows_.begin(), rows_.end(),
                       [](const Row& row) { return row.quantity->value().has_value(); });
}

} // namespace milehold::ui
