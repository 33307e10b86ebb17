// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/gallery/pages.h"
#include "ui/theme/icons.h"
#include "ui/theme/paint.h"
#include "ui/theme/theme.h"
#include "ui/widgets/card.h"
#include "ui/widgets/date_field.h"
#include "ui/widgets/decimal_field.h"
#include "ui/widgets/distance_field.h"
#include "ui/widgets/engine_plan.h"
#include "ui/widgets/findings.h"
#include "ui/widgets/form_grid.h"
#include "ui/widgets/section_title.h"
#include "ui/widgets/segmented.h"
#include "ui/widgets/status.h"

#include <QCheckBox>
#include <QComboBox>
#include <QDateEdit>
#include <QGridLayout>
#include <QGroupBox>
#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPlainTextEdit>
#include <QProgressBar>
#include <QPushButton>
#include <QRadioButton>
#include <QSlider>
#include <QSpinBox>
#include <QTabWidget>
#include <QToolButton>
#include <QVBoxLayout>

namespace milehold::gallery {

using namespace ui;

namespace {

QPushButton* button(const QString& text, ButtonRole role, const QString& iconName = {}, bool enabled = true) {
    auto* b = new QPushButton(text);
    theme::setRole(b, role);
    if (!iconName.isEmpty())
        b->setIcon(icon(iconName));
    b->setEnabled(enabled);
    return b;
}

QHBoxLayout* rowOf(std::initializer_list<QWidget*> widgets) {
    auto* row = new QHBoxLayout;
    row->setSpacing(kGrid);
    for (QWidget* widget : widgets)
        row->addWidget(widget);
    row->addStretch(1);
    return row;
}

core::Date day(int y, unsigned m, unsigned d) {
    return {std::chrono::year(y), std::chrono::month(m), std::chrono::day(d)};
}

QWidget* buttonsCard() {
    auto* buttons = new Card(QStringLiteral("Buttons"));
    buttons->body()->addLayout(rowOf(
        {button("Save the job", ButtonRole::Primary, "save"), button("Print", ButtonRole::Ordinary, "print"),
         button("Add a line", ButtonRole::Quiet, "add"), button("Void the job…", ButtonRole::Danger)}));
    buttons->body()->addLayout(rowOf({button("Save the job", ButtonRole::Primary, "save", false),
                                      button("Print", ButtonRole::Ordinary, "print", false),
                                      button("Add a line", ButtonRole::Quiet, "add", false),
                                      button("Void the job…", ButtonRole::Danger, {}, false)}));
    auto* large = button("Log: still quiet at 48,200 mi", ButtonRole::Primary);
    theme::setLarge(large);
    auto* focused = button("With the keyboard", ButtonRole::Ordinary);
    focused->setObjectName("focusHere");
    buttons->body()->addLayout(rowOf({large, focused}));
    auto* checks = new QCheckBox("Quiet-visit rule");
    checks->setChecked(true);
    auto* part = new QCheckBox("Partly");
    part->setTristate(true);
    part->setCheckState(Qt::PartiallyChecked);
    auto* off = new QCheckBox("Disabled");
    off->setEnabled(false);
    auto* radio = new QRadioButton("By path");
    radio->setChecked(true);
    buttons->body()->addLayout(
        rowOf({checks, new QCheckBox("Off"), part, off, radio, new QRadioButton("By part")}));
    auto* segments = new Segmented({"Quiet", "Noisy", "Not done"});
    segments->setCurrent(0);
    auto* none = new Segmented({"Best", "Known", "Worst"});
    buttons->body()->addLayout(rowOf({segments, none}));
    return buttons;
}

QWidget* marksCard() {
    auto* marks = new Card(QStringLiteral("Marks"));
    marks->setNote(QStringLiteral("A status is a shape, a word and a colour."));
    auto* states = new QHBoxLayout;
    for (const auto state : {core::LifeState::Holding, core::LifeState::CameBack, core::LifeState::NeverHeld,
                             core::LifeState::LostSight, core::LifeState::EndedOtherwise})
        states->addWidget(new StatusLabel(statusOf(state)));
    states->addStretch(1);
    marks->body()->addLayout(states);
    return marks;
}

QWidget* numbersCard() {
    auto* numbers = new Card;
    auto* row = new QHBoxLayout;
    row->setSpacing(kMargin);
    auto* big = new BigNumber("Known miles");
    big->setValue("4,812,350", "mi");
    big->setNote("of 5.6 million driven");
    auto* rate = new BigNumber("Evidence");
    rate->setValue("86", "%");
    rate->setNote("412 repairs");
    auto* unknown = new BigNumber("Median life");
    unknown->setNote("not reached yet");
    auto* huge = new BigNumber("What comebacks cost this year");
    huge->setValue("$1,284,960,112.50");
    row->addWidget(big, 1);
    row->addWidget(rate, 1);
    row->addWidget(unknown, 1);
    row->addWidget(huge, 1);
    numbers->body()->addLayout(row);
    return numbers;
}

QWidget* fieldsCard() {
    auto* fields = new Card(QStringLiteral("Fields"));
    auto* edit = new QLineEdit("1HGQ…invented");
    edit->setPlaceholderText("Plate");
    auto* blank = new QLineEdit;
    blank->setPlaceholderText("Plate, VIN or name");
    auto* combo = new QComboBox;
    combo->addItems({"Phasers with chain set", "Phasers only", "Calibration alone"});
    auto* typed = new QComboBox;
    typed->setEditable(true);
    typed->addItem("5W-30");
    auto* spin = new QSpinBox;
    spin->setRange(0, 240);
    spin->setValue(12);
    spin->setSuffix(" h");
    auto* date = new QDateEdit(QDate(2031, 4, 9));
    date->setCalendarPopup(true);
    auto* grid = new QGridLayout;
    grid->setHorizontalSpacing(kGap);
    grid->addWidget(edit, 0, 0);
    grid->addWidget(blank, 0, 1);
    grid->addWidget(combo, 1, 0);
    grid->addWidget(typed, 1, 1);
    grid->addWidget(spin, 2, 0);
    grid->addWidget(date, 2, 1);
    auto* distance = new DistanceField;
    distance->setDistance(core::Distance::miles(148'212));
    auto* money = new MoneyField;
    money->setMoney(core::Money{184'250});
    auto* dates = new DateField;
    dates->setDate(day(2031, 4, 9));
    auto* hours = new HoursField;
    hours->setHours(core::Hours{735});
    grid->addWidget(distance, 3, 0);
    grid->addWidget(money, 3, 1);
    grid->addWidget(dates, 4, 0);
    grid->addWidget(hours, 4, 1);
    auto* disabled = new QLineEdit("Not to be changed");
    disabled->setEnabled(false);
    auto* readOnly = new QLineEdit("Read only");
    readOnly->setReadOnly(true);
    grid->addWidget(disabled, 5, 0);
    grid->addWidget(readOnly, 5, 1);
    fields->body()->addLayout(grid);
    return fields;
}

QWidget* tabsCard() {
    auto* rest = new Card;
    auto* tabs = new QTabWidget;
    auto* inner = new QWidget;
    auto* innerStack = new QVBoxLayout(inner);
    auto* bar = new QProgressBar;
    bar->setValue(62);
    innerStack->addWidget(bar);
    auto* slider = new QSlider(Qt::Horizontal);
    slider->setValue(40);
    innerStack->addWidget(slider);
    auto* group = new QGroupBox("Before the work");
    auto* groupStack = new QVBoxLayout(group);
    groupStack->addWidget(new QLabel("Soak hours and rattle at the first cold start"));
    innerStack->addWidget(group);
    auto* checkable = new QGroupBox("Comeback");
    checkable->setCheckable(true);
    innerStack->addWidget(checkable);
    tabs->addTab(inner, "Verify");
    tabs->addTab(new QWidget, "Parts");
    tabs->addTab(new QWidget, "Money");
    tabs->setTabEnabled(2, false);
    rest->body()->addWidget(tabs);
    return rest;
}

} // namespace

QWidget* controlsPage() {
    auto* page = new QWidget;
    auto* across = new QHBoxLayout(page);
    across->setContentsMargins(kMargin, kMargin, kMargin, kMargin);
    across->setSpacing(kMargin);
    const auto column = [across](std::initializer_list<QWidget*> cards) {
        auto* stack = new QVBoxLayout;
        for (QWidget* card : cards)
            stack->addWidget(card);
        stack->addStretch(1);
        across->addLayout(stack, 1);
    };
    column({buttonsCard(), marksCard(), numbersCard()});
    column({fieldsCard(), tabsCard()});
    return page;
}

QWidget* formPage() {
    auto* page = new QWidget;
    auto* stack = new QVBoxLayout(page);
    stack->setContentsMargins(kMargin, kMargin, kMargin, kMargin);
    auto* card = new Card(QStringLiteral("Finished job"));
    card->setNote(QStringLiteral("Repair order 20417, Brannik 2.4 V6, 2019"));
    auto* form = new FormGrid(4);
    auto* odometer = new DistanceField;
    odometer->setDistance(core::Distance::miles(88'140));
    auto* out = new DistanceField;
    out->setDistance(core::Distance::miles(8'815));
    auto* delivered = new DateField;
    delivered->setDate(day(2031, 4, 9));
    auto* tech = new QComboBox;
    tech->addItems({"Ilse Marten", "Jory Pell"});
    form->addField("Odometer &in", odometer, "odometerIn");
    form->addField("Odometer o&ut", out, "odometerOut");
    form->addField("&Delivered", delivered, "delivered");
    form->addField("&Technician", tech, "technician");
    auto* path = new QComboBox;
    path->addItem("Phasers with chain set");
    form->addField("Repair &path", path, "path", 2);
    auto* calibration = new QLineEdit("KX-2204-B");
    form->addField("&Calibration after", calibration, "calibrationAfter");
    form->addField("Steuergerätekalibrierung vor der &Arbeit", new QLineEdit, "calibrationBefore");
    form->addSection("Cold start before delivery");
    form->addField("&Soak", new DecimalField(0), "soak");
    form->addField("&Rattle", new DecimalField(1), "rattle");
    auto* check = new Segmented({"Quiet", "Noisy", "Not done"});
    form->addField("Delivery chec&k", check, "check", 2);
    form->addSection("Concern, cause, correction");
    auto* concern = new QPlainTextEdit("Rattles for three seconds after standing overnight.");
    concern->setFixedHeight(72);
    form->addField("C&oncern", concern, "concern", 2);
    auto* correction = new QPlainTextEdit;
    correction->setFixedHeight(72);
    form->addField("Corr&ection", correction, "correction", 2);
    form->setFindings(
        {{"odometerOut", core::Severity::Error, "8,815 mi is less than the odometer in, 88,140 mi."},
         {"check", core::Severity::Error, "Say how the engine started: quiet, noisy or not done."},
         {"calibrationAfter", core::Severity::Warning,
          "KX-2204-B was superseded by KX-2204-C on 2 February 2031."},
         {"technician", core::Severity::Hint, "Filled in from who is at this station."}});
    card->body()->addWidget(form);
    auto* row = new QHBoxLayout;
    row->addStretch(1);
    row->addWidget(button("Put aside", ButtonRole::Quiet));
    row->addWidget(button("Save the job", ButtonRole::Primary, "save"));
    card->body()->addLayout(row);
    stack->addWidget(card);
    stack->addStretch(1);
    delivered->setObjectName("focusHere");
    return page;
}

QWidget* enginePage() {
    using core::CamRole;
    auto* page = new QWidget;
    auto* stack = new QVBoxLayout(page);
    stack->setContentsMargins(kMargin, kMargin, kMargin, kMargin);
    stack->setSpacing(kGap);
    const std::vector<core::Position> four = {
        {1, CamRole::Intake}, {1, CamRole::Exhaust}, {2, CamRole::Intake}, {2, CamRole::Exhaust}};
    const PhaserStates states = {{{1, CamRole::Intake}, {PhaserWork::Replaced, false, "TP-4410 C"}},
                                 {{1, CamRole::Exhaust}, {PhaserWork::Reused, false, {}}},
                                 {{2, CamRole::Intake}, {PhaserWork::Replaced, true, "TP-4410 C"}},
                                 {{2, CamRole::Exhaust}, {PhaserWork::Untouched, true, {}}}};
    auto* first = new Card("Which phasers were replaced?");
    auto* plan = new EnginePlan;
    plan->setEngine(2, four);
    plan->setChosen({{1, CamRole::Intake}, {2, CamRole::Intake}});
    plan->setObjectName("focusHere");
    first->body()->addWidget(plan);
    auto* second = new Card("What was found");
    auto* found = new EnginePlan;
    found->setEngine(2, four);
    found->setStates(states);
    found->setReadOnly(true);
    second->body()->addWidget(found);
    auto* across = new QHBoxLayout;
    across->addWidget(first, 1);
    across->addWidget(second, 1);
    stack->addLayout(across);
    auto* third = new Card("Inline");
    auto* inlinePlan = new EnginePlan;
    inlinePlan->setEngine(1, {{1, CamRole::Intake}, {1, CamRole::Exhaust}});
    inlinePlan->setChosen({{1, CamRole::Exhaust}});
    third->body()->addWidget(inlinePlan);
    auto* fourth = new Card("One cam a bank");
    auto* single = new EnginePlan;
    single->setEngine(2, {{1, CamRole::Single}, {2, CamRole::Single}});
    single->setStates({{{1, CamRole::Single}, {PhaserWork::Replaced, false, {}}}});
    fourth->body()->addWidget(single);
    auto* fifth = new Card("No phaser");
    auto* nothing = new EnginePlan;
    nothing->setEngine(1, {});
    fifth->body()->addWidget(nothing);
    auto* lower = new QHBoxLayout;
    lower->addWidget(third, 1);
    lower->addWidget(fourth, 1);
    lower->addWidget(fifth, 1);
    stack->addLayout(lower);
    stack->addStretch(1);
    return page;
}

QWidget* emptyPage() {
    auto* page = new QWidget;
    auto* stack = new QVBoxLayout(page);
    auto* empty = new EmptyState(
        "job", "No job logged yet",
        "Scan or type a VIN to log the first finished job. After a handful of jobs with their odometers "
        "the Office begins to draw curves.");
    empty->setAction("Log a finished job");
    stack->addWidget(empty, 1);
    stack->setContentsMargins(kMargin, kMargin, kMargin, kMargin);
    return page;
}

QWidget* iconsPage() {
    auto* page = new QWidget;
    auto* grid = new QGridLayout(page);
    constexpr int kInARow = 8;
    int place = 0;
    for (const QString& name : iconNames()) {
        auto* tool = new QToolButton;
        tool->setIcon(icon(name));
        tool->setIconSize(QSize(32, 32));
        tool->setText(name);
        tool->setToolButtonStyle(Qt::ToolButtonTextUnderIcon);
        tool->setFixedWidth(104);
        grid->addWidget(tool, place / kInARow, place % kInARow);
        ++place;
    }
    return page;
}

} // namespace milehold::gallery
