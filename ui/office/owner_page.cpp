// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/office/owner_page.h"

#include "ui/theme/theme.h"
#include "ui/words/labelled.h"

#include <QComboBox>
#include <QGridLayout>
#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QScrollArea>
#include <QVBoxLayout>

namespace milehold::ui {

namespace {

template <class Chart, class Data> PaintedChart* chartOf(const Data& data, QWidget* parent) {
    auto* chart = new Chart(parent);
    chart->setData(data);
    return chart;
}

PaintedChart* makeChart(const OwnerFigure& figure, QWidget* parent) {
    if (const auto* bars = std::get_if<BarData>(&figure.chart))
        return chartOf<BarChart>(*bars, parent);
    if (const auto* forest = std::get_if<ForestData>(&figure.chart))
        return chartOf<ForestPlot>(*forest, parent);
    if (const auto* funnel = std::get_if<FunnelData>(&figure.chart))
        return chartOf<FunnelChart>(*funnel, parent);
    if (const auto* watch = std::get_if<WatchData>(&figure.chart))
        return chartOf<WatchChart>(*watch, parent);
    return nullptr;
}

} // namespace

OwnerPage::OwnerPage(QWidget* parent) : QWidget(parent) {
    lead_ = wrappingLabel(this);
    lead_->setObjectName(QStringLiteral("ownerLead"));
    choices_ = new QComboBox(this);
    choices_->setObjectName(QStringLiteral("ownerChoices"));
    choices_->setAccessibleName(tr("Which one"));
    action_ = new QPushButton(this);
    action_->setObjectName(QStringLiteral("ownerAction"));
    theme::setRole(action_, ButtonRole::Primary);
    scroll_ = new QScrollArea(this);
    scroll_->setWidgetResizable(true);
    scroll_->setFrameShape(QFrame::NoFrame);
    scroll_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    closing_ = wrappingLabel(this);
    closing_->setObjectName(QStringLiteral("ownerClosing"));
    theme::setText(closing_, TextRole::Small, true);

    auto* act = new QHBoxLayout;
    act->setSpacing(kGrid);
    act->addWidget(choices_);
    act->addWidget(action_);
    act->addStretch();
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(kGrid + kHalf);
    column->addWidget(lead_);
    column->addLayout(act);
    column->addWidget(scroll_, 1);
    column->addWidget(closing_);
    connect(action_, &QPushButton::clicked, this, [this] { emit actionWanted(choices_->currentIndex()); });
    setData({});
}

void OwnerPage::setData(const OwnerPageData& data) {
    data_ = data;
    lead_->setText(data.lead);
    closing_->setText(data.closing);
    closing_->setVisible(!data.closing.isEmpty());
    const int chosen = choices_->currentIndex();
    choices_->clear();
    choices_->addItems(data.choices);
    choices_->setCurrentIndex(chosen >= 0 && chosen < data.choices.size() ? chosen : 0);
    choices_->setVisible(!data.choices.isEmpty());
    action_->setText(data.action);
    action_->setVisible(!data.action.isEmpty());
    auto* sheet = new QWidget;
    auto* grid = new QGridLayout(sheet);
    grid->setContentsMargins(0, kGrid, kGrid, 0);
    grid->setHorizontalSpacing(kMargin);
    grid->setVerticalSpacing(kGap);
    const int abreast = data.figures.size() > 1 && !data.isOneColumn ? 2 : 1;
    int place = 0;
    for (const OwnerFigure& figure : data.figures) {
        grid->addWidget(makeFigure(figure, sheet), place / abreast, place % abreast);
        ++place;
    }
    for (int i = 0; i < abreast; ++i)
        grid->setColumnStretch(i, 1);
    grid->setRowStretch(place, 1);
    scroll_->setWidget(sheet);
}

QWidget* OwnerPage::makeFigure(const OwnerFigure& figure, QWidget* parent) {
    auto* box = new QWidget(parent);
    auto* title = new QLabel(figure.title, box);
    theme::setText(title, TextRole::Lead);
    auto* column = new QVBoxLayout(box);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(kHalf);
    column->addWidget(title);
    if (PaintedChart* chart = makeChart(figure, box)) {
        chart->setAccessibleName(figure.title);
        column->addWidget(chart);
        connect(chart, &PaintedChart::markClicked, this, [this, jobs = figure.jobs](const QString& id) {
            const auto behind = jobs.find(id);
            if (behind != jobs.end() && !behind->second.jobs.empty())
                emit jobsWanted(behind->second.jobs, behind->second.why);
        });
    }
    if (!figure.words.isEmpty()) {
        auto* words = wrappingLabel(box);
        words->setText(figure.words);
        theme::setText(words, TextRole::Small);
        column->addWidget(words);
    }
    column->addStretch(1);
    return box;
}

} // namespace milehold::ui
