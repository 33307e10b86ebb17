// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/counter/counter_room.h"

#include "ui/counter/calls_panel.h"
#include "ui/counter/quote_side.h"
#include "ui/theme/tokens.h"
#include "ui/widgets/segmented.h"

#include <QShortcut>
#include <QStackedWidget>
#include <QVBoxLayout>

namespace milehold::ui {

namespace {
enum Side { Quote, Calls };
}

CounterRoom::CounterRoom(QWidget* parent) : QWidget(parent) {
    sides_ = new QStackedWidget(this);
    side_ = new QuoteSide(makeSwitch(this), this);
    sides_->addWidget(side_);
    sides_->addWidget(makeCallsPage());
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(kMargin, kGap, kMargin, kGap);
    column->addWidget(sides_);
    connect(side_, &QuoteSide::searchWanted, this, &CounterRoom::searchWanted);
    connect(side_, &QuoteSide::vehicleWanted, this, &CounterRoom::vehicleWanted);
    connect(side_, &QuoteSide::quoteWanted, this, &CounterRoom::quoteWanted);
    connect(side_, &QuoteSide::jobsWanted, this, &CounterRoom::jobsWanted);
    connect(side_, &QuoteSide::openVehicleWanted, this, &CounterRoom::openVehicleWanted);
    connect(side_, &QuoteSide::pageWanted, this, &CounterRoom::pageWanted);
    connect(side_, &QuoteSide::quoteGiven, this, &CounterRoom::quoteGiven);
    connect(side_, &QuoteSide::said, this, &CounterRoom::said);
    auto* other = new QShortcut(QKeySequence(QStringLiteral("Ctrl+L")), this);
    other->setContext(Qt::WidgetWithChildrenShortcut);
    connect(other, &QShortcut::activated, this, [this] { showCalls(!showsCalls()); });
}

Segmented* CounterRoom::makeSwitch(QWidget* parent) {
    auto* choice = new Segmented({tr("Quote"), tr("Calls to make")}, parent);
    choice->setObjectName(QStringLiteral("switch%1").arg(switches_.size()));
    choice->setCurrent(0);
    switches_.push_back(choice);
    connect(choice, &Segmented::chosen, this, [this](int page) { showCalls(page == Calls); });
    return choice;
}

QWidget* CounterRoom::makeCallsPage() {
    auto* page = new QWidget(this);
    calls_ = new CallsPanel(page);
    auto* column = new QVBoxLayout(page);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(kGrid + kHalf);
    column->addWidget(makeSwitch(page), 0, Qt::AlignLeft);
    column->addWidget(calls_, 1);
    return page;
}

void CounterRoom::showCalls(bool calls) {
    sides_->setCurrentIndex(calls ? Calls : Quote);
    for (Segmented* choice : switches_)
        choice->setCurrent(calls ? Calls : Quote);
    if (calls) {
        calls_->focusList();
    } else {
        focusSearch();
    }
}

bool CounterRoom::showsCalls() const {
    return sides_->currentIndex() == Calls;
}

void CounterRoom::setChoices(const CounterChoices& choices) {
    side_->setChoices(choices);
}

void CounterRoom::setFound(const QString& text, const std::vector<VehicleFound>& found) {
    side_->setFound(text, found);
}

void CounterRoom::setVehicle(const CounterVehicle& vehicle) {
    side_->setVehicle(vehicle);
}

CounterVehicle CounterRoom::vehicle() const {
    return side_->vehicle();
}

std::optional<CounterQuery> CounterRoom::query() const {
    return side_->query();
}

void CounterRoom::setQuote(std::shared_ptr<const core::Quote> quote) {
    side_->setQuote(std::move(quote));
}

const core::Quote* CounterRoom::quote() const {
    return side_->quote();
}

int CounterRoom::chosenPath() const {
    return side_->chosenPath();
}

void CounterRoom::setBusy(bool busy) {
    side_->setBusy(busy);
}

void CounterRoom::setProblem(const QString& sentence) {
    side_->setProblem(sentence);
}

void CounterRoom::focusSearch() {
    side_->focusSearch();
}

} // namespace milehold::ui
