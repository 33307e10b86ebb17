// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/ui/shelf/shelf_fixture.h"
#include "ui/shelf/calibration_form.h"
#include "ui/shelf/family_form.h"
#include "ui/shelf/id_combo.h"
#include "ui/shelf/note_form.h"
#include "ui/shelf/part_form.h"
#include "ui/shelf/path_form.h"
#include "ui/shelf/path_parts_editor.h"
#include "ui/shelf/plain_fields.h"
#include "ui/shelf/settings_form.h"
#include "ui/shelf/staff_form.h"
#include "ui/widgets/engine_plan.h"
#include "ui/widgets/findings.h"
#include "ui/widgets/segmented.h"

#include <QAbstractButton>
#include <QLineEdit>
#include <QPushButton>
#include <QTest>

#include <gtest/gtest.h>

#include <algorithm>

namespace milehold::tests {
namespace {

using namespace ui;

template <class Form> void showsAndGivesBack(const ShelfContents& all, const ShelfRecord& record) {
    Form form;
    form.setContents(all);
    form.setRecord(record);
    EXPECT_EQ(form.record(), record);
    EXPECT_FALSE(form.isEdited());
    form.setContents(all); // filling the choices again must not choose anything else
    EXPECT_EQ(form.record(), record);
    form.showFindings();
    EXPECT_EQ(form.record(), record);
}

TEST(ShelfForms, GiveAnUntouchedRecordBackToTheByte) {
    const ShelfContents all = smallShelf();
    for (const auto& row : all.shelf.families)
        showsAndGivesBack<FamilyForm>(all, row);
    for (const auto& row : all.shelf.parts)
        showsAndGivesBack<PartForm>(all, row);
    for (const auto& row : all.shelf.calibrations)
        showsAndGivesBack<CalibrationForm>(all, row);
    for (const auto& row : all.shelf.paths)
        showsAndGivesBack<PathForm>(all, row);
    for (const auto& row : all.shelf.notes)
        showsAndGivesBack<NoteForm>(all, row);
    for (const auto& row : all.staff)
        showsAndGivesBack<StaffForm>(all, row);
    showsAndGivesBack<SettingsForm>(all, all.settings);
}

TEST(ShelfForms, KeepWhatARecordNamesThatIsNotOnTheShelf) {
    ShelfContents all = smallShelf();
    core::RepairPath path = all.shelf.paths[0];
    core::PartNumber part = all.shelf.parts[kOldPhaser];
    all.shelf.parts.clear();
    all.shelf.families.clear();
    all.shelf.calibrations.clear();
    showsAndGivesBack<PathForm>(all, path);
    showsAndGivesBack<PartForm>(all, part);
}

TEST(ShelfForms, TellAnEditByTheUserOnly) {
    const ShelfContents all = smallShelf();
    PartForm form;
    int edits = 0;
    QObject::connect(&form, &RecordForm::edited, [&] { ++edits; });
    form.setContents(all);
    form.setRecord(all.shelf.parts[kNewPhaser]);
    EXPECT_EQ(edits, 0);
    auto* supplier = form.findChild<QLineEdit*>(QStringLiteral("supplier"));
    QTest::keyClicks(supplier, QStringLiteral("!"));
    EXPECT_EQ(edits, 1);
    EXPECT_TRUE(form.isEdited());
    EXPECT_EQ(std::get<core::PartNumber>(form.record()).supplier, "Lowick Drive Parts!");
}

TEST(ShelfForms, SayWhatIsWrongBesideItsField) {
    const ShelfContents all = smallShelf();
    PartForm form;
    form.setContents(all);
    core::PartNumber twice = all.shelf.parts[kNewPhaser];
    twice.id.uuid = uuid(99);
    form.setRecord(twice);
    const core::Findings findings = form.showFindings();
    ASSERT_FALSE(findings.empty());
    EXPECT_EQ(findings.front().field, "number");
    bool shown = false;
    for (const InlineFinding* line : form.findChildren<InlineFinding*>())
        shown = shown || (!line->isHidden() && line->text().contains(QStringLiteral("on the shelf already")));
    EXPECT_TRUE(shown);
}

TEST(ShelfForms, RefuseATextThatIsNoDate) {
    const ShelfContents all = smallShelf();
    PartForm form;
    form.setContents(all);
    form.setRecord(all.shelf.parts[kNewPhaser]);
    auto* introduced = form.findChild<QLineEdit*>(QStringLiteral("introducedOn"));
    introduced->selectAll();
    QTest::keyClicks(introduced, QStringLiteral("soon"));
    EXPECT_TRUE(form.isEdited());
    const core::Findings findings = form.showFindings();
    EXPECT_TRUE(std::any_of(findings.begin(), findings.end(), [](const core::Finding& finding) {
        return finding.field == "introducedOn" && finding.severity == core::Severity::Error;
    }));
}

TEST(FamilyForm, EditsThePositionsOnTheDrawnPlan) {
    const ShelfContents all = smallShelf();
    FamilyForm form;
    form.setContents(all);
    form.setRecord(all.shelf.families[kV6]);
    auto* plan = form.findChild<EnginePlan*>(QStringLiteral("positions"));
    ASSERT_EQ(plan->positions().size(), 4U);
    form.show();
    QTest::keyClick(plan->focusProxy(), Qt::Key_1); // the tile at the left: bank 2 exhaust
    const auto family = std::get<core::EngineFamily>(form.record());
    EXPECT_EQ(family.positions.size(), 3U);
    EXPECT_EQ(std::count(family.positions.begin(), family.positions.end(),
                         core::Position{2, core::CamRole::Exhaust}),
              0);
}

TEST(FamilyForm, FollowsALayoutThatIsChosen) {
    const ShelfContents all = smallShelf();
    FamilyForm form;
    form.setContents(all);
    form.setRecord(all.shelf.families[kV6]);
    form.findChild<Segmented*>(QStringLiteral("cams"))->button(1)->click();
    auto family = std::get<core::EngineFamily>(form.record());
    EXPECT_EQ(family.positions,
              (std::vector<core::Position>{{1, core::CamRole::Single}, {2, core::CamRole::Single}}));
    form.findChild<Segmented*>(QStringLiteral("banks"))->button(0)->click();
    family = std::get<core::EngineFamily>(form.record());
    EXPECT_EQ(family.banks, 1);
    EXPECT_EQ(family.positions, (std::vector<core::Position>{{1, core::CamRole::Single}}));
}

TEST(PathForm, PutsAPartOnThePositionsThatWereTapped) {
    const ShelfContents all = smallShelf();
    PathForm form;
    form.setContents(all);
    core::RepairPath path = all.shelf.paths[0];
    path.parts.clear();
    form.setRecord(path);
    auto* parts = form.findChild<PathPartsEditor*>(QStringLiteral("parts"));
    parts->plan()->setChosen({{1, core::CamRole::Intake}, {2, core::CamRole::Intake}});
    auto* next = parts->findChildren<IdCombo*>().front();
    next->setChosen(all.shelf.parts[kNewPhaser].id.uuid);
    emit next->edited();
    for (QPushButton* button : parts->findChildren<QPushButton*>())
        button->click();
    const auto typed = std::get<core::RepairPath>(form.record());
    EXPECT_EQ(typed.parts,
              (std::vector<core::PathPart>{
                  {all.shelf.parts[kNewPhaser].id, core::Position{1, core::CamRole::Intake}, 1},
                  {all.shelf.parts[kNewPhaser].id, core::Position{2, core::CamRole::Intake}, 1}}));
    EXPECT_EQ(parts->plan()->states().at({1, core::CamRole::Intake}).caption, QStringLiteral("LP-4410 B"));
}

TEST(PathForm, ReadsCautionsOneALine) {
    const ShelfContents all = smallShelf();
    PathForm form;
    form.setContents(all);
    form.setRecord(all.shelf.paths[0]);
    auto* cautions = form.findChild<TextField*>(QStringLiteral("cautions"));
    cautions->moveCursor(QTextCursor::End);
    QTest::keyClick(cautions, Qt::Key_Return);
    QTest::keyClick(cautions, Qt::Key_Return);
    QTest::keyClicks(cautions, QStringLiteral("  Support the battery. "));
    EXPECT_EQ(std::get<core::RepairPath>(form.record()).cautions,
              (std::vector<std::string>{"Lock both banks first.", "Hot oil.", "Support the battery."}));
    EXPECT_EQ(std::get<core::RepairPath>(form.record()).lines, all.shelf.paths[0].lines);
}

TEST(SettingsForm, KeepsDistancesToTheMetreWhenTheUnitChanges) {
    const ShelfContents all = smallShelf();
    SettingsForm form;
    form.setContents(all);
    form.setRecord(all.settings);
    form.findChild<Segmented*>(QStringLiteral("unit"))->button(1)->click();
    const auto settings = std::get<core::ShopSettings>(form.record());
    EXPECT_EQ(settings.unit, core::DistanceUnit::Kilometres);
    EXPECT_EQ(settings.defaultYearly, all.settings.defaultYearly);
    EXPECT_EQ(settings.warrantyDistance, all.settings.warrantyDistance);
}

} // namespace
} // namespace milehold::tests
