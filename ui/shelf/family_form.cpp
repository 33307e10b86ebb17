// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/shelf/family_form.h"

#include "ui/shelf/choices.h"
#include "ui/shelf/plain_fields.h"
#include "ui/theme/theme.h"
#include "ui/widgets/engine_plan.h"
#include "ui/widgets/form_grid.h"
#include "ui/widgets/segmented.h"
#include "ui/widgets/text.h"

#include <QLabel>
#include <QLineEdit>

#include <algorithm>
#include <set>

namespace milehold::ui {
namespace {

using core::CamRole;
using core::Position;

/// Every place for a phaser that a layout has.
std::set<Position> placesOf(int banks, bool singleCam) {
    std::set<Position> places;
    for (int bank = 1; bank <= banks; ++bank) {
        const auto number = static_cast<std::uint8_t>(bank);
        if (singleCam) {
            places.insert({number, CamRole::Single});
        } else {
            places.insert({number, CamRole::Intake});
            places.insert({number, CamRole::Exhaust});
        }
    }
    return places;
}

bool isSingleCam(const std::vector<Position>& positions) {
    return !positions.empty() && std::all_of(positions.begin(), positions.end(),
                                             [](const Position& p) { return p.cam == CamRole::Single; });
}

} // namespace

FamilyForm::FamilyForm(QWidget* parent)
    : RecordForm(2, parent), name_(new QLineEdit(this)),
      banks_(new Segmented({tr("Inline"), tr("Two banks")}, this)),
      cams_(new Segmented({tr("Intake and exhaust"), tr("One cam a bank")}, this)),
      plan_(new EnginePlan(this)), note_(new TextField(2, this)) {
    grid()->addField(tr("&Name"), name_, QStringLiteral("name"), 0);
    grid()->addField(tr("&Layout"), banks_, QStringLiteral("banks"));
    grid()->addField(tr("Ca&ms"), cams_, QStringLiteral("cams"));
    grid()->addField(tr("Which cams carry a &phaser? Tap them."), plan_, QStringLiteral("positions"), 0);
    grid()->addField(tr("What to &know about it"), note_, QStringLiteral("note"), 0);

    connect(name_, &QLineEdit::textEdited, this, &FamilyForm::touched);
    connect(note_, &TextField::edited, this, &FamilyForm::touched);
    connect(plan_, &EnginePlan::chosenChanged, this, &FamilyForm::touched);
    const auto relay = [this] {
        // The cams of a layout carry phasers until somebody says otherwise.
        const std::set<Position> before(plan_->positions().begin(), plan_->positions().end());
        std::set<Position> chosen = plan_->chosen();
        layPlan();
        for (const Position& place : plan_->positions())
            if (!before.contains(place))
                chosen.insert(place);
        plan_->setChosen(chosen);
        touched();
    };
    connect(banks_, &Segmented::chosen, this, relay);
    connect(cams_, &Segmented::chosen, this, relay);
}

void FamilyForm::fillChoices(const ShelfContents&) {}

void FamilyForm::layPlan() {
    const int banks = banks_->current() == 1 ? 2 : 1;
    const std::set<Position> places = placesOf(banks, cams_->current() == 1);
    plan_->setEngine(banks, {places.begin(), places.end()});
}

void FamilyForm::load(const ShelfRecord& record) {
    const auto& family = std::get<core::EngineFamily>(record);
    loadedPositions_ = family.positions;
    name_->setText(toText(family.name));
    note_->setText(family.note);
    banks_->setCurrent(family.banks > 1 ? 1 : 0);
    cams_->setCurrent(isSingleCam(family.positions) ? 1 : 0);
    // A record may hold more places than its layout has; they are shown, so that nothing is lost by looking.
    const int banks = family.banks > 1 ? 2 : 1;
    std::set<Position> places = placesOf(banks, cams_->current() == 1);
    places.insert(family.positions.begin(), family.positions.end());
    plan_->setEngine(banks, {places.begin(), places.end()});
    plan_->setChosen({family.positions.begin(), family.positions.end()});
}

ShelfRecord FamilyForm::typed(const ShelfRecord& loaded) const {
    auto family = std::get<core::EngineFamily>(loaded);
    keepText(family.name, name_);
    family.note = note_->text();
    if ((family.banks > 1) != (banks_->current() == 1))
        family.banks = banks_->current() == 1 ? 2 : 1;
    const std::set<Position> chosen = plan_->chosen();
    const std::set<Position> before(loadedPositions_.begin(), loadedPositions_.end());
    if (chosen != before)
        family.positions.assign(chosen.begin(), chosen.end());
    return family;
}

QWidget* FamilyForm::firstField() const {
    return name_;
}

} // namespace milehold::ui
