// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/office/owner_page.h"

#include "ui/counter/page_preview.h"
#include "ui/office/report_page.h"
#include "ui/theme/icons.h"
#include "ui/theme/theme.h"
#include "ui/widgets/record_table.h"
#include "ui/widgets/roles.h"
#include "ui/words/labelled.h"

#include <QComboBox>
#include <QGridLayout>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QLabel>
#include <QPushButton>
#include <QScrollArea>
#include <QStandardItemModel>
#include <QVBoxLayout>

#include <algorithm>

namespace milehold::ui {

namespace {

constexpr int kSheetWidth = 800; // a sheet at about its own size
constexpr int kMostRows = 4;     // of a list before it scrolls: the charts below stay in sight

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
    scroll_->setAccessibleName(tr("The figures of this topic, to scroll"));
    preview_ = new PagePreview(this);
    preview_->setMaximumWidth(kSheetWidth);
    preview_->setAccessibleName(tr("The sheets as they will be printed"));
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
    column->addWidget(makeTable());
    column->addWidget(preview_, 1);
    column->addWidget(scroll_, 1);
    column->addWidget(closing_);
    connect(action_, &QPushButton::clicked, this, [this] { emit actionWanted(choices_->currentIndex()); });
    connect(choices_, &QComboBox::activated, this, &OwnerPage::choiceMade);
    setData({});
}

QWidget* OwnerPage::makeTable() {
    listed_ = new QWidget(this);
    tableTitle_ = new QLabel(listed_);
    theme::setText(tableTitle_, TextRole::Lead);
    table_ = new RecordTable(listed_);
    table_->setObjectName(QStringLiteral("ownerTable"));
    table_->setWordWrap(false);
    tableTitle_->setBuddy(table_);
    auto* column = new QVBoxLayout(listed_);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(kHalf);
    column->addWidget(tableTitle_);
    column->addWidget(table_);
    connect(table_, &RecordTable::opened, this, [this](int row) {
        const OwnerTable::Row& one = data_.table.rows[static_cast<std::size_t>(row)];
        emit jobsWanted({one.job}, one.cells.join(QStringLiteral(", ")));
    });
    return listed_;
}

void OwnerPage::fillTable() {
    const OwnerTable& data = data_.table;
    listed_->setVisible(!data.rows.empty());
    if (data.rows.empty())
        return;
    tableTitle_->setText(data.title);
    table_->setAccessibleName(QString(data.title).remove(QChar(u'&')));
    auto* model = new QStandardItemModel(static_cast<int>(data.rows.size()),
                                         static_cast<int>(data.headers.size()), table_);
    model->setHorizontalHeaderLabels(data.headers);
    for (const int column : data.numbers)
        model->setHeaderData(column, Qt::Horizontal, int(Qt::AlignRight | Qt::AlignVCenter),
                             Qt::TextAlignmentRole);
    for (int row = 0; row < model->rowCount(); ++row) {
        const OwnerTable::Row& one = data.rows[static_cast<std::size_t>(row)];
        for (int column = 0; column < model->columnCount(); ++column) {
            auto* item = new QStandardItem(one.cells.value(column));
            item->setEditable(false);
            item->setToolTip(one.cells.value(column));
            item->setData(row, kIdRole);
            if (data.numbers.contains(column))
                item->setTextAlignment(Qt::AlignRight | Qt::AlignVCenter);
            if (column == 0 && one.needsYou)
                item->setIcon(icon(QStringLiteral("warning")));
            model->setItem(row, column, item);
        }
    }
    QAbstractItemModel* old = table_->records();
    const int before = table_->currentRecord();
    table_->setRecords(model);
    if (old != nullptr)
        old->deleteLater();
    table_->sortByColumn(-1, Qt::AscendingOrder); // they come sorted
    table_->setSortingEnabled(false);
    QHeaderView* header = table_->horizontalHeader();
    for (int column = 0; column < data.widths.size(); ++column)
        header->resizeSection(column, data.widths[column]);
    header->setStretchLastSection(true);
    table_->setCurrentRecord(std::clamp(before, 0, model->rowCount() - 1));
    const int rows = std::min(model->rowCount(), kMostRows);
    table_->setFixedHeight(header->sizeHint().height() +
                           rows * table_->verticalHeader()->defaultSectionSize() + 2 * table_->frameWidth() +
                           2);
}

std::optional<core::VehicleId> OwnerPage::currentVehicle() const {
    const int row = data_.table.rows.empty() ? -1 : table_->currentRecord();
    return row < 0 || row >= static_cast<int>(data_.table.rows.size())
               ? std::nullopt
               : std::optional(data_.table.rows[static_cast<std::size_t>(row)].vehicle);
}

void OwnerPage::setData(const OwnerPageData& data) {
    preview_->setSheets(data.sheets ? &data.sheets->flow() : nullptr); // before the old ones go
    data_ = data;
    fillTable();
    preview_->setVisible(data.sheets != nullptr);
    scroll_->setVisible(data.sheets == nullptr);
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
