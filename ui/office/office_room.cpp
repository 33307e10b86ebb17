// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/office/office_room.h"

#include "ui/charts/curve_chart.h"
#include "ui/office/compare_bar.h"
#include "ui/office/group_table.h"
#include "ui/office/owner_page.h"
#include "ui/office/review_words.h"
#include "ui/theme/icons.h"
#include "ui/theme/theme.h"
#include "ui/widgets/card.h"
#include "ui/widgets/segmented.h"
#include "ui/widgets/text.h"
#include "ui/words/busy_label.h"
#include "ui/words/labelled.h"

#include <QComboBox>
#include <QHBoxLayout>
#include <QLabel>
#include <QMenu>
#include <QPushButton>
#include <QScopeGuard>
#include <QSpinBox>
#include <QSplitter>
#include <QStackedWidget>
#include <QThreadPool>
#include <QTimer>
#include <QVBoxLayout>

#include <algorithm>
#include <utility>

namespace milehold::ui {

namespace {

constexpr double kFewWatched = 5; // fewer watched than this, and a line is drawn faint
constexpr int kTableWidth = 572;  // all figures of the table, and names in two lines

enum Page { Figures, NothingYet, NothingPasses };

const core::LimitMethod kLimitMethods[] = {core::LimitMethod::Exact, core::LimitMethod::ExactMidP,
                                           core::LimitMethod::LogLog, core::LimitMethod::Log,
                                           core::LimitMethod::Linear};

/// How many are watched at a mileage, from the curve's own column: late entries between that mileage and its
/// next step have not come yet.
double watchedBetween(const core::Curve& curve, const core::Counts& counts, double miles) {
    const auto step = std::lower_bound(curve.miles.begin(), curve.miles.end(), miles) - curve.miles.begin();
    if (static_cast<std::size_t>(step) == curve.size())
        return 0;
    const auto at = static_cast<std::size_t>(step);
    double watched = curve.watched[at];
    for (auto late = std::lower_bound(counts.entryMiles.begin(), counts.entryMiles.end(), miles);
         late != counts.entryMiles.end() && *late < curve.miles[at]; ++late)
        watched -= counts.entered[static_cast<std::size_t>(late - counts.entryMiles.begin())];
    return watched;
}

/// `view` holds the group and is kept alive by the series.
CurveSeries seriesOf(const std::shared_ptr<const OfficeView>& view, const OfficeGroup& group, int look) {
    const std::shared_ptr<const OfficeGroup> kept(view, &group);
    CurveSeries series = curveSeries(std::shared_ptr<const core::Curve>(view, &group.curve),
                                     toText(group.name), groupName(group), look);
    series.median = group.median.miles;
    series.lives = group.lives(); // the rows of the curve also hold those that were never heard of again
    series.watchedAt = [kept](double miles) {
        return watchedBetween(kept->curve, kept->counts, std::max(miles, 0.0));
    };
    return series;
}

} // namespace

OfficeRoom::OfficeRoom(QWidget* parent) : QWidget(parent) {
    busy_ = new BusyLabel(this);
    auto* topics = makeTopics();
    views_ = new QStackedWidget(this);
    views_->addWidget(makeCurves());
    for (int topic = 1; topic < ownerTopicNames().size(); ++topic) {
        auto* page = new OwnerPage(this);
        connect(page, &OwnerPage::jobsWanted, this, &OfficeRoom::jobsWanted);
        connect(page, &OwnerPage::actionWanted, this, &OfficeRoom::reportWanted);
        connect(page, &OwnerPage::choiceMade, this, &OfficeRoom::reportChosen);
        topicPages_.push_back(page);
        views_->addWidget(page);
    }
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(kMargin, kGap, kMargin, kGap);
    column->setSpacing(kGrid + kHalf);
    column->addWidget(topics);
    column->addWidget(views_, 1);
    showEmpty(false);
}

QWidget* OfficeRoom::makeCurves() {
    auto* page = new QWidget(this);
    filters_ = new FilterBar(page);
    evidence_ = wrappingLabel(page);
    evidence_->setObjectName(QStringLiteral("evidence"));
    theme::setText(evidence_, TextRole::Small, true);

    auto* sides = new QSplitter(Qt::Horizontal, page);
    sides->setChildrenCollapsible(false);
    sides->addWidget(makeChartSide());
    sides->addWidget(makeTableSide());
    sides->setStretchFactor(0, 1);
    sides->setStretchFactor(1, 0);
    empty_ = new EmptyState(
        QStringLiteral("curve"), tr("No finished repair yet"),
        tr("The first curve appears with the first repair that is delivered. Log it in the Bay; "
           "every later visit, call and comeback makes it surer."),
        page);
    empty_->setAction(tr("Log a finished job"));
    filtered_ = new EmptyState(QStringLiteral("filter"), tr("No repair passes these filters"),
                               tr("Widen one of them, or look at all repairs."), page);
    filtered_->setAction(tr("Show all"));
    pages_ = new QStackedWidget(page);
    pages_->addWidget(sides);
    pages_->addWidget(empty_);
    pages_->addWidget(filtered_);
    pages_->setCurrentIndex(NothingYet);
    auto* column = new QVBoxLayout(page);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(kGrid + kHalf);
    column->addWidget(filters_);
    column->addWidget(pages_, 1);
    column->addWidget(evidence_);
    connect(filters_, &FilterBar::edited, this, &OfficeRoom::fieldEdited);
    connect(empty_, &EmptyState::actionWanted, this, &OfficeRoom::logJobWanted);
    connect(filtered_, &EmptyState::actionWanted, filters_, &FilterBar::clearFilters);
    return page;
}

QWidget* OfficeRoom::makeChartSide() {
    auto* side = new QWidget(this);
    reading_ = new Segmented({tr("quiet"), tr("not counted"), tr("failed")}, side);
    reading_->setObjectName(QStringLiteral("reading"));
    reading_->setCurrent(static_cast<int>(core::Reading::Known));
    reading_->button(0)->setToolTip(tr("Best reading: every unseen mile was quiet"));
    reading_->button(1)->setToolTip(tr("Known reading: only what somebody has checked"));
    reading_->button(2)->setToolTip(
        tr("Worst reading: every vehicle failed right after it was last known quiet"));
    auto* readingName = new QLabel(tr("&Unseen miles"), side);
    theme::setText(readingName, TextRole::Small, true);
    readingName->setBuddy(reading_);
    limits_ = new QComboBox(side);
    limits_->setObjectName(QStringLiteral("limits"));
    limits_->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
    limits_->setMinimumContentsLength(6);
    limits_->addItems({tr("exact"), tr("exact, mid-p"), tr("log-log"), tr("log"), tr("linear")});
    limits_->setAccessibleName(tr("How the limits are made"));
    limits_->setToolTip(
        tr("Exact limits hold with few repairs too; the others are for comparing with other work"));
    auto* limitsName = new QLabel(tr("&Limits"), side);
    theme::setText(limitsName, TextRole::Small, true);
    limitsName->setBuddy(limits_);
    chart_ = new CurveChart(side);
    chart_->setObjectName(QStringLiteral("curves"));
    chart_->setKeyShown(false); // the table beside it is the key
    chart_->setMinimumWidth(380);

    auto* fields = new QHBoxLayout;
    fields->setSpacing(kGrid);
    fields->addWidget(readingName);
    fields->addWidget(reading_);
    fields->addStretch();
    fields->addWidget(limitsName);
    fields->addWidget(limits_);
    auto* column = new QVBoxLayout(side);
    column->setContentsMargins(0, 0, kGrid, 0);
    column->setSpacing(kGrid);
    column->addLayout(fields);
    column->addWidget(chart_, 1);

    connect(reading_, &Segmented::chosen, this, &OfficeRoom::fieldEdited);
    connect(limits_, &QComboBox::currentIndexChanged, this, &OfficeRoom::fieldEdited);
    connect(chart_, &CurveChart::seriesClicked, this, &OfficeRoom::openPoint);
    return side;
}

QWidget* OfficeRoom::makeTableSide() {
    auto* side = new QWidget(this);
    side->setMinimumWidth(kTableWidth);
    auto* markName = new QLabel(tr("Chances at &mark"), side);
    theme::setText(markName, TextRole::Small, true);
    mark_ = new QSpinBox(side);
    mark_->setObjectName(QStringLiteral("mark"));
    mark_->setRange(1, 999'000);
    mark_->setSingleStep(5'000);
    mark_->setGroupSeparatorShown(true);
    mark_->setKeyboardTracking(false);
    mark_->setFixedHeight(kControlHeight);
    mark_->setAccessibleName(tr("Distance at which the groups are set side by side"));
    markName->setBuddy(mark_);
    table_ = new GroupTable(side);
    readings_ = wrappingLabel(side);
    readings_->setObjectName(QStringLiteral("readings"));
    theme::setText(readings_, TextRole::Small);
    compare_ = new CompareBar(side);
    caution_ = wrappingLabel(side);
    caution_->setObjectName(QStringLiteral("caution"));
    theme::setText(caution_, TextRole::Small);

    auto* fields = new QHBoxLayout;
    fields->setSpacing(kGrid);
    fields->addWidget(markName);
    fields->addWidget(mark_);
    fields->addStretch();
    auto* column = new QVBoxLayout(side);
    column->setContentsMargins(kGrid, 0, 0, 0);
    column->setSpacing(kGrid);
    column->addLayout(fields);
    column->addWidget(table_, 1);
    column->addWidget(readings_);
    column->addWidget(caution_);
    column->addWidget(compare_);

    connect(mark_, &QSpinBox::valueChanged, this, [this](int mark) {
        if (filling_)
            return;
        query_.mark = mark;
        fieldEdited();
    });
    connect(table_, &GroupTable::figureActivated, this, &OfficeRoom::openFigure);
    connect(table_, &GroupTable::currentGroupChanged, this, &OfficeRoom::showReadings);
    connect(&table_->groups(), &GroupModel::shownChanged, this, &OfficeRoom::showChart);
    connect(compare_, &CompareBar::comparedChanged, this, [this](const std::vector<std::string>& names) {
        query_.compared = names;
        fieldEdited();
    });
    return side;
}

void OfficeRoom::fillExportMenu() {
    auto* menu = new QMenu(export_);
    const auto add = [this, menu](const QString& text, Export what) {
        connect(menu->addAction(text), &QAction::triggered, this, [this, what] { emit exportWanted(what); });
    };
    add(tr("The &figures as a table (CSV) \u2026"), Export::GroupsCsv);
    add(tr("The &steps of the curves (CSV) \u2026"), Export::StepsCsv);
    add(tr("The chart as a &picture (PNG) \u2026"), Export::ChartPng);
    add(tr("The chart for pa&per (PDF) \u2026"), Export::ChartPdf);
    export_->setMenu(menu);
}

void OfficeRoom::setChoices(const OfficeChoices& choices) {
    filters_->setChoices(choices);
}

void OfficeRoom::setQuery(const OfficeQuery& query) {
    filling_ = true;
    query_ = query;
    filters_->setQuery(query);
    reading_->setCurrent(static_cast<int>(query.reading));
    const auto method = std::find(std::begin(kLimitMethods), std::end(kLimitMethods), query.limits);
    limits_->setCurrentIndex(static_cast<int>(method - std::begin(kLimitMethods)));
    mark_->setSuffix(QChar(u' ') + unitSign(query.unit));
    if (query.mark > 0)
        mark_->setValue(static_cast<int>(query.mark));
    filling_ = false;
}

OfficeQuery OfficeRoom::query() const {
    OfficeQuery query = filters_->query();
    query.reading = static_cast<core::Reading>(std::max(0, reading_->current()));
    query.limits = kLimitMethods[std::max(0, limits_->currentIndex())];
    query.unit = query_.unit;
    query.compared = query_.compared;
    query.mark = query_.mark;
    return query;
}

void OfficeRoom::fieldEdited() {
    if (filling_)
        return;
    OfficeQuery wanted = query();
    if (wanted.facet != query_.facet)
        wanted.compared.clear();
    query_ = wanted;
    emit queryChanged(query_);
}

void OfficeRoom::setView(std::shared_ptr<const OfficeView> view) {
    setBusy(false);
    // Of a large shop it holds so much that giving it back takes longer than a frame: on another thread.
    const auto old = qScopeGuard([before = std::exchange(view_, std::move(view))]() mutable {
        if (before)
            QThreadPool::globalInstance()->start([before = std::move(before)]() mutable { before.reset(); });
    });
    if (!view_->problem.empty()) {
        showEmpty(view_->query.filters());
        return;
    }
    filling_ = true;
    query_ = view_->query;
    mark_->setSuffix(QChar(u' ') + unitSign(query_.unit));
    mark_->setValue(static_cast<int>(view_->mark));
    filling_ = false;
    table_->setView(view_);
    compare_->setView(*view_);
    showReadings(table_->currentGroup());
    const QString caution = cautionWords(*view_);
    caution_->setText(caution);
    caution_->setVisible(!caution.isEmpty());
    evidence_->setText(evidenceWords(*view_));
    evidence_->show();
    filters_->show();
    export_->setEnabled(true);
    showChart();
    pages_->setCurrentIndex(Figures);
}

void OfficeRoom::setBusy(bool busy) {
    busy_->setBusy(busy);
}

void OfficeRoom::setProblem(const QString& sentence) {
    setBusy(false);
    filtered_->setTexts(tr("No curve can be drawn"), sentence);
    showEmpty(true);
}

void OfficeRoom::showEmpty(bool filtered) {
    pages_->setCurrentIndex(filtered ? NothingPasses : NothingYet);
    filters_->setVisible(filtered);
    evidence_->hide();
    export_->setEnabled(false);
}

void OfficeRoom::showChart() {
    CurveData curves;
    curves.unit = view_->query.unit;
    curves.level = view_->level;
    curves.fewerThan = kFewWatched;
    curves.emptyText = tr("Tick a group in the table to draw its curve.");
    for (const int row : table_->groups().shownRows()) {
        curves.series.push_back(seriesOf(view_, table_->groups().group(row), table_->groups().lookOf(row)));
    }
    chart_->setData(std::move(curves));
    chart_->setUnit(view_->query.unit);
    chart_->setMark(view_->mark > 0 ? std::optional(view_->mark) : std::nullopt);
}

void OfficeRoom::showReadings(int row) {
    const bool known = view_ && row >= 0 && row < static_cast<int>(view_->groups.size());
    readings_->setText(known ? readingsWords(view_->groups[static_cast<std::size_t>(row)], *view_)
                             : QString());
    readings_->setVisible(!readings_->text().isEmpty());
}

void OfficeRoom::openFigure(int row, GroupFigure figure) {
    const JobsBehind behind = jobsBehind(table_->groups().group(row), figure, *view_);
    emit jobsWanted(behind.jobs, behind.why);
}

void OfficeRoom::openPoint(const QString& group, double miles) {
    for (const OfficeGroup& candidate : view_->groups) {
        if (toText(candidate.name) != group)
            continue;
        const JobsBehind behind = jobsAtPoint(candidate, miles, *view_);
        emit jobsWanted(behind.jobs, behind.why);
        return;
    }
}

} // namespace milehold::ui
