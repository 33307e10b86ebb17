// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/vehicle/vehicle_page.h"

#include "core/life/odometer.h"
#include "ui/bay/vehicle_line_view.h"
#include "ui/bay/vehicle_words.h"
#include "ui/charts/odometer_line.h"
#include "ui/theme/icons.h"
#include "ui/theme/theme.h"
#include "ui/widgets/card.h"
#include "ui/widgets/reason_row.h"
#include "ui/widgets/record_table.h"
#include "ui/widgets/roles.h"
#include "ui/widgets/text.h"
#include "ui/words/amounts.h"
#include "ui/words/labelled.h"

#include <QHBoxLayout>
#include <QHeaderView>
#include <QLabel>
#include <QPushButton>
#include <QStandardItemModel>
#include <QVBoxLayout>

#include <algorithm>

namespace milehold::ui {

namespace {

constexpr int kSideWidth = 320;
constexpr int kOdometerWidth = 120;
enum Column { Day, What, Shown, Details, ColumnCount };

ReadingMark markOf(const VehicleEvent& event) {
    switch (event.kind) {
    case VehicleEvent::Kind::Repair:
    case VehicleEvent::Kind::Elsewhere:
        return ReadingMark::Repair;
    case VehicleEvent::Kind::Comeback:
        return ReadingMark::NoiseBack;
    case VehicleEvent::Kind::Visit:
    case VehicleEvent::Kind::Calibration:
    case VehicleEvent::Kind::Call:
    case VehicleEvent::Kind::Reading:
    case VehicleEvent::Kind::Replacement:
    case VehicleEvent::Kind::File:
        break;
    }
    return ReadingMark::Plain;
}

} // namespace

VehiclePage::VehiclePage(VehiclePageContent content, QWidget* parent)
    : QDialog(parent), content_(std::move(content)),
      events_(
          vehicleEvents(content_.history, content_.lives, *content_.shelf, content_.unit, content_.files)),
      line_(new VehicleLineView(this)), table_(new RecordTable(this)),
      model_(new QStandardItemModel(0, ColumnCount, this)), chart_(new OdometerLine(this)),
      yearly_(wrappingLabel(this)), reason_(new ReasonRow(this)), void_(new QPushButton(this)) {
    setObjectName(QStringLiteral("vehiclePage"));
    setWindowTitle(vehicleTitle(content_.history.vehicle));
    line_->setUnit(content_.unit);
    line_->setLine(vehicleLine(content_.history, content_.lives));
    table_->setObjectName(QStringLiteral("vehicleEvents"));
    table_->setAccessibleName(tr("All that happened, newest first"));
    table_->setEmptyText(tr("Nothing is recorded of this vehicle yet. Its first job starts its record."));
    QWidget* foot = makeFoot();
    fillEvents();
    fillYearly();
    showChosen();

    auto* middle = new QHBoxLayout;
    middle->setSpacing(kGap);
    middle->addWidget(table_, 1);
    middle->addWidget(makeYearly());
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(kMargin, kGap, kMargin, kGap);
    column->setSpacing(kGap);
    column->addWidget(makeHead());
    column->addWidget(line_);
    column->addLayout(middle, 1);
    column->addWidget(foot);
    connect(line_, &VehicleLineView::jobActivated, this, &VehiclePage::jobWanted);
    connect(table_, &RecordTable::opened, this, &VehiclePage::openRow);
    connect(table_, &RecordTable::currentChangedTo, this, &VehiclePage::showChosen);
    resize(1120, 700);
    table_->setFocus();
}

QWidget* VehiclePage::makeHead() {
    auto* head = new QWidget(this);
    const core::Vehicle& vehicle = content_.history.vehicle;
    auto* title = new QLabel(vehicleTitle(vehicle), head);
    theme::setText(title, TextRole::Title);
    QString detail = vehicleDetail(vehicle, content_.customer);
    if (const auto* family = vehicle.family ? content_.shelf->find(*vehicle.family) : nullptr)
        detail += QStringLiteral(" \u00b7 ") + toText(family->name);
    auto* under = new QLabel(detail, head);
    theme::setText(under, TextRole::Small, true);
    under->setTextInteractionFlags(Qt::TextSelectableByMouse);
    under->setMinimumWidth(1);
    auto* words = new QVBoxLayout;
    words->setSpacing(2);
    words->addWidget(title);
    words->addWidget(under);
    auto* row = new QHBoxLayout(head);
    row->setContentsMargins(0, 0, 0, 0);
    row->setSpacing(kGrid);
    row->addLayout(words, 1);
    const auto button = [&](const QString& text, const char* iconName, ButtonRole role, auto act) {
        auto* made = new QPushButton(text, head);
        made->setIcon(icon(QString::fromLatin1(iconName)));
        made->setAutoDefault(false);
        theme::setRole(made, role);
        connect(made, &QPushButton::clicked, this, act);
        row->addWidget(made);
    };
    const core::VehicleId id = vehicle.id;
    button(tr("&Close"), "close", ButtonRole::Quiet, [this] { reject(); });
    button(tr("&Quote"), "counter", ButtonRole::Ordinary, [this, id] { emit quoteWanted(id); });
    button(tr("&New job"), "add", ButtonRole::Primary, [this, id] { emit newJobWanted(id); });
    return head;
}

QWidget* VehiclePage::makeYearly() {
    auto* card = new Card(tr("How far it is driven"), this);
    card->setFixedWidth(kSideWidth);
    chart_->setObjectName(QStringLiteral("yearlyChart"));
    chart_->setAccessibleName(tr("Odometer over the years"));
    chart_->setMinimumHeight(180);
    yearly_->setObjectName(QStringLiteral("yearlyText"));
    yearly_->setText(yearlyText(content_.yearly, content_.unit));
    auto* note = wrappingLabel(card);
    theme::setText(note, TextRole::Small, true);
    note->setText(tr("Estimates are left out: they would only prove themselves."));
    card->body()->addWidget(chart_);
    card->body()->addWidget(yearly_);
    card->body()->addWidget(note);
    card->body()->addStretch();
    return card;
}

void VehiclePage::fillEvents() {
    model_->setHorizontalHeaderLabels({tr("Date"), tr("What"), tr("Odometer"), tr("Details")});
    int place = static_cast<int>(events_.size());
    for (const VehicleEvent& event : events_) {
        const auto cell = [&](const QString& text, const QVariant& sort) {
            auto* item = new QStandardItem(text);
            item->setEditable(false);
            item->setData(sort, kSortRole);
            item->setData(QStringLiteral("%1").arg(place, 6, 10, QChar(u'0')),
                          kIdRole); // ties are broken by text
            return item;
        };
        const QString shown = !event.shown ? QString()
                              : event.estimated
                                  ? tr("about %1").arg(estimateText(*event.shown, content_.unit))
                                  : distanceText(*event.shown, content_.unit);
        auto* odometer = cell(shown, event.shown ? static_cast<qlonglong>(event.shown->metres())
                                                 : static_cast<qlonglong>(-1));
        odometer->setTextAlignment(Qt::AlignRight | Qt::AlignVCenter);
        odometer->setData(event.estimated, kSoftRole);
        auto* details = cell(event.details, event.details);
        details->setData(event.isVoid(), kSoftRole);
        details->setToolTip(event.details);
        model_->appendRow({cell(dateText(event.date), toQDate(event.date)), cell(event.what, event.what),
                           odometer, details});
        --place;
    }
    table_->setRecords(model_);
    auto* header = table_->horizontalHeader();
    header->resizeSection(Day, 100);
    header->resizeSection(What, 190);
    int widest = kOdometerWidth;
    for (int row = 0; row < model_->rowCount(); ++row)
        widest = std::max(widest, table_->fontMetrics().horizontalAdvance(model_->item(row, Shown)->text()) +
                                      2 * kGap);
    header->resizeSection(Shown, widest);
    header->setStretchLastSection(true);
    table_->sortByColumn(Day, Qt::DescendingOrder);
    if (!events_.empty())
        table_->setCurrentRecord(0);
}

void VehiclePage::fillYearly() {
    std::vector<OdometerReading> readings;
    bool replaced = false;
    for (auto event = events_.rbegin(); event != events_.rend(); ++event) { // by date
        replaced = replaced || event->kind == VehicleEvent::Kind::Replacement;
        if (!event->shown || event->estimated || event->isVoid() ||
            event->kind == VehicleEvent::Kind::Calibration)
            continue;
        OdometerReading reading;
        reading.id = QString::fromStdString(core::toString(event->job.uuid));
        reading.date = event->date;
        reading.odometer = *event->shown;
        reading.mark = markOf(*event);
        reading.resetBefore = replaced;
        reading.text = event->what;
        replaced = false;
        readings.push_back(reading);
    }
    chart_->setReadings(std::move(readings), content_.unit);
}

QWidget* VehiclePage::makeFoot() {
    auto* foot = new QWidget(this);
    void_->setObjectName(QStringLiteral("voidAnswer"));
    void_->setAutoDefault(false);
    theme::setRole(void_, ButtonRole::Quiet);
    auto* hint = new QLabel(tr("Enter opens the job or the file of a row."), foot);
    theme::setText(hint, TextRole::Small, true);
    auto* row = new QHBoxLayout;
    row->setSpacing(kGrid);
    row->addWidget(hint, 1);
    row->addWidget(void_);
    auto* column = new QVBoxLayout(foot);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(kHalf);
    column->addLayout(row);
    column->addWidget(reason_);
    connect(void_, &QPushButton::clicked, this, &VehiclePage::turnCall);
    connect(reason_, &ReasonRow::left, this, [this] { table_->setFocus(); });
    connect(reason_, &ReasonRow::given, this, [this](const QString& reason) {
        if (const VehicleEvent* event = chosen(); event && event->call)
            emit voidWanted(event->call->id, event->call->revision, reason);
    });
    return foot;
}

const VehicleEvent* VehiclePage::chosen() const {
    const int row = table_->currentRecord();
    return row < 0 || row >= static_cast<int>(events_.size()) ? nullptr
                                                              : &events_[static_cast<std::size_t>(row)];
}

/// Only what a customer told can be voided here; a job is voided on its own sheet.
void VehiclePage::showChosen() {
    reason_->leave();
    const VehicleEvent* event = chosen();
    const bool isCall = event != nullptr && event->call.has_value();
    void_->setEnabled(isCall);
    void_->setText(isCall && event->isVoid() ? tr("Let the answer count &again")
                                             : tr("&Void this answer \u2026"));
}

void VehiclePage::turnCall() {
    const VehicleEvent* event = chosen();
    if (event == nullptr || !event->call)
        return;
    if (event->isVoid())
        emit countAgainWanted(event->call->id, event->call->revision);
    else
        reason_->ask(tr("&Why does it not count?"), tr("Void &the answer"), tr("&Keep it"));
}

void VehiclePage::openRow(int row) {
    if (row < 0 || row >= static_cast<int>(events_.size()))
        return;
    const VehicleEvent& event = events_[static_cast<std::size_t>(row)];
    if (event.file)
        emit fileWanted(*event.file);
    else if (!event.job.isNull())
        emit jobWanted(event.job);
}

} // namespace milehold::ui
