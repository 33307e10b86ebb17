// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/counter/quote_side.h"

#include "ui/charts/curve_chart.h"
#include "ui/counter/answer_card.h"
#include "ui/counter/option_sheet.h"
#include "ui/counter/vehicle_panel.h"
#include "ui/counter/vehicle_words.h"
#include "ui/theme/theme.h"
#include "ui/widgets/card.h"
#include "ui/widgets/search_box.h"
#include "ui/widgets/segmented.h"
#include "ui/widgets/tall_page.h"
#include "ui/widgets/text.h"
#include "ui/words/amounts.h"
#include "ui/words/busy_label.h"
#include "ui/words/labelled.h"

#include <QCheckBox>
#include <QClipboard>
#include <QGuiApplication>
#include <QHBoxLayout>
#include <QLabel>
#include <QScrollArea>
#include <QStackedWidget>
#include <QVBoxLayout>

namespace milehold::ui {

namespace {

constexpr int kLeftWidth = 264;
constexpr int kLowestChart = 120;
constexpr int kTallRoom = 820;
constexpr int kFromHere = static_cast<int>(OptionModel::Rows::FromHere);
enum Page { Options, Nothing };

} // namespace

QuoteSide::QuoteSide(QWidget* head, QWidget* parent) : QWidget(parent) {
    pages_ = new QStackedWidget(this);
    auto* left = makeLeft(head);
    pages_->addWidget(makeQuote());
    empty_ = new EmptyState(QStringLiteral("counter"), tr("Who is at the counter?"), QString(), this);
    pages_->addWidget(empty_);
    auto* row = new QHBoxLayout(this);
    row->setContentsMargins(0, 0, 0, 0);
    row->setSpacing(kMargin);
    row->addWidget(left);
    row->addWidget(pages_, 1);
    connectLeft();
    connectQuote();
    setQuote(nullptr);
}

QWidget* QuoteSide::makeLeft(QWidget* head) {
    auto* left = new QWidget(this);
    left->setFixedWidth(kLeftWidth);
    search_ = new SearchBox(left);
    search_->setObjectName(QStringLiteral("findVehicle"));
    search_->setPlaceholderText(tr("VIN, plate, customer, phone"));
    search_->setNothingFoundText(tr("Nothing found. Describe the vehicle by hand below."));
    theme::setLarge(search_);
    vehicle_ = new VehiclePanel(left);
    busy_ = new BusyLabel(left);

    auto* column = new QVBoxLayout(left);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(kGap);
    column->addWidget(head, 0, Qt::AlignLeft);
    column->addLayout(labelled(tr("&Find the vehicle"), search_));
    column->addWidget(vehicle_);
    column->addWidget(busy_);
    column->addWidget(makeNotes(), 1);
    return left;
}

void QuoteSide::connectLeft() {
    connect(search_, &SearchBox::queryChanged, this, &QuoteSide::searchWanted);
    connect(search_, &SearchBox::chosen, this, [this](const QVariant& key) {
        if (const auto id = core::uuidFromString(toUtf8(key.toString())))
            emit vehicleWanted({*id});
        search_->clear();
    });
    connect(vehicle_, &VehiclePanel::edited, this, &QuoteSide::quoteWanted);
    connect(vehicle_, &VehiclePanel::startAgainWanted, this, &QuoteSide::startAgain);
    connect(vehicle_, &VehiclePanel::openVehicleWanted, this, [this] {
        if (const auto shown = vehicle_->vehicle().vehicle)
            emit openVehicleWanted(shown->id);
    });
}

QWidget* QuoteSide::makeQuote() {
    auto* page = new QWidget(this);
    answer_ = new AnswerCard(page);
    rows_ = new Segmented({}, page);
    rows_->setObjectName(QStringLiteral("rows"));
    sheet_ = new OptionSheet(page);
    auto* name = new QLabel(tr("Chance of being quiet"), page);
    theme::setText(name, TextRole::Lead);
    auto* under = new QLabel(tr("with 95 % limits"), page);
    theme::setText(under, TextRole::Small, true);
    under->setMinimumWidth(1);
    under->setSizePolicy(QSizePolicy::Ignored, QSizePolicy::Preferred);
    chart_ = new CurveChart(page);
    chart_->setObjectName(QStringLiteral("quoteCurve"));
    chart_->setKeyShown(false);
    chart_->setMinimumHeight(kLowestChart);
    chart_->setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Ignored);
    project_ = new QCheckBox(tr("Project furt&her"), page);
    project_->setObjectName(QStringLiteral("project"));
    project_->setToolTip(
        tr("Goes on by a model where too few were watched: drawn dashed, named a projection"));
    evidence_ = wrappingLabel(page);
    evidence_->setObjectName(QStringLiteral("quoteEvidence"));
    theme::setText(evidence_, TextRole::Small, true);
    auto* head = new QHBoxLayout;
    head->setSpacing(kGrid);
    head->addWidget(name);
    head->addWidget(under, 1);
    head->addWidget(project_);
    head->addWidget(rows_);

    auto* column = new QVBoxLayout(page);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(kGrid);
    column->addWidget(answer_);
    column->addLayout(head);
    column->addWidget(sheet_);
    column->addWidget(chart_, 1);
    column->addWidget(evidence_);
    // Where the words need more than there is, the page scrolls: nothing is drawn over anything else.
    return new TallPage(page, this);
}

void QuoteSide::connectQuote() {
    connect(rows_, &Segmented::chosen, this, [this](int chosen) {
        sheet_->setRows(static_cast<OptionModel::Rows>(chosen));
        showPath();
    });
    connect(sheet_, &OptionSheet::pathChosen, this, &QuoteSide::showPath);
    connect(sheet_, &OptionSheet::horizonChosen, this, [this](std::int64_t distance) {
        horizon_ = distance;
        emit quoteWanted();
    });
    connect(sheet_, &OptionSheet::jobsAsked, this, &QuoteSide::openJobs);
    connect(chart_, &CurveChart::seriesClicked, this, [this] { openJobs(chosenPath()); });
    connect(project_, &QCheckBox::toggled, this, &QuoteSide::quoteWanted);
    connect(answer_, &AnswerCard::copyWanted, this, &QuoteSide::copySentence);
    connect(answer_, &AnswerCard::keepWanted, this, &QuoteSide::quoteGiven);
    connect(answer_, &AnswerCard::whyWanted, this, [this] { openJobs(chosenPath()); });
    connect(answer_, &AnswerCard::pageWanted, this, &QuoteSide::pageWanted);
}

QWidget* QuoteSide::makeNotes() {
    notes_ = wrappingLabel(this);
    notes_->setObjectName(QStringLiteral("notes"));
    notes_->setAlignment(Qt::AlignTop | Qt::AlignLeft);
    notes_->setTextFormat(Qt::RichText);
    theme::setText(notes_, TextRole::Small);
    auto* scroll = new QScrollArea(this);
    scroll->setWidget(notes_);
    scroll->setWidgetResizable(true);
    scroll->setFrameShape(QFrame::NoFrame);
    scroll->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    scroll->setAccessibleName(tr("What to check, and cautions"));
    return scroll;
}

void QuoteSide::resizeEvent(QResizeEvent* event) {
    QWidget::resizeEvent(event);
    // On a low screen the watched counts give way to the curve; the sheet has the numbers.
    chart_->setWatchedShown(height() >= kTallRoom);
}

void QuoteSide::setChoices(const CounterChoices& choices) {
    choices_ = choices;
    vehicle_->setChoices(choices);
    if (!quote_ && !vehicle_->isComplete())
        setQuote(nullptr); // what an empty counter says depends on the Shelf
}

void QuoteSide::setFound(const QString& text, const std::vector<VehicleFound>& found) {
    QList<SearchResult> results;
    for (const VehicleFound& vehicle : found) {
        SearchResult result;
        result.icon = QStringLiteral("vehicle");
        result.title = vehicleTitle(vehicle);
        result.detail = vehicleDetail(vehicle);
        result.key = toText(core::toString(vehicle.id.uuid));
        results.push_back(result);
    }
    search_->setResults(text, results);
}

void QuoteSide::setVehicle(const CounterVehicle& vehicle) {
    horizon_ = 0;
    const auto before = vehicle_->vehicle().vehicle;
    if (!vehicle.vehicle || !before || before->id != vehicle.vehicle->id)
        sheet_->forgetChoice();
    vehicle_->setVehicle(vehicle);
    if (vehicle.family) {
        emit quoteWanted();
    } else {
        setQuote(nullptr);
    }
}

CounterVehicle QuoteSide::vehicle() const {
    return vehicle_->vehicle();
}

std::optional<CounterQuery> QuoteSide::query() const {
    if (!vehicle_->isComplete())
        return std::nullopt;
    const CounterVehicle shown = vehicle_->vehicle();
    CounterQuery query;
    query.subject = {shown.family, shown.modelYear, shown.calibration, shown.yearly, shown.running};
    if (shown.vehicle)
        query.vehicle = shown.vehicle->id;
    query.horizon = horizon_;
    query.project = project_->isChecked();
    return query;
}

int QuoteSide::chosenPath() const {
    return quote_ ? sheet_->chosenPath() : -1;
}

void QuoteSide::startAgain() {
    setVehicle({});
    focusSearch();
}

void QuoteSide::focusSearch() {
    search_->setFocus(Qt::ShortcutFocusReason);
    search_->selectAll();
}

void QuoteSide::setBusy(bool busy) {
    busy_->setBusy(busy);
}

void QuoteSide::setProblem(const QString& sentence) {
    setBusy(false);
    setQuote(nullptr);
    empty_->setTexts(tr("No quote can be given"), sentence);
}

void QuoteSide::setQuote(std::shared_ptr<const core::Quote> quote) {
    setBusy(false);
    quote_ = std::move(quote);
    if (!quote_ || quote_->paths.empty())
        notes_->clear();
    if (!quote_) {
        empty_->setTexts(
            tr("Who is at the counter?"),
            choices_.families.empty()
                ? tr("Nothing can be quoted yet: the Shelf (Alt+4) has no engine. Add the engines there, and "
                     "the repair paths with their prices.")
                : tr("Find the vehicle, or choose its engine family. Then every repair path that applies "
                     "stands here side by side: what it costs, and how long it has lasted in this shop."));
        pages_->setCurrentIndex(Nothing);
        return;
    }
    if (quote_->paths.empty()) {
        const bool wantsYear = !quote_->note.empty() && !vehicle_->vehicle().modelYear;
        empty_->setTexts(wantsYear ? tr("Which model year?") : tr("No repair path applies"),
                         quote_->note.empty()
                             ? tr("No active path on the shelf names this engine, model year and "
                                  "calibration. Add one on the Shelf.")
                             : toText(quote_->note));
        pages_->setCurrentIndex(Nothing);
        return;
    }
    sheet_->setQuote(quote_, choices_.currency);
    showRowChoices();
    showPath();
    pages_->setCurrentIndex(Options);
}

void QuoteSide::showRowChoices() {
    QStringList choices{tr("by years"), tr("by distance"), tr("what it rests on")};
    const bool hasFromHere = sheet_->options().hasFromHere();
    if (hasFromHere)
        choices << tr("from here on");
    // Building them anew would take the keyboard away from whoever is there.
    if ((rows_->button(kFromHere) != nullptr) != hasFromHere || !rows_->button(0))
        rows_->setChoices(choices);
    rows_->setCurrent(static_cast<int>(sheet_->options().rows()));
    if (hasFromHere) {
        rows_->button(kFromHere)->setToolTip(
            tr("Given that this vehicle's own repair has already run quiet so far"));
    }
}

void QuoteSide::showPath() {
    const int column = chosenPath();
    if (column < 0)
        return;
    const core::PathQuote& path = sheet_->options().path(column);
    answer_->setPath(path, quote_->options.unit, choices_.currency);
    answer_->setCanKeep(vehicle_->vehicle().vehicle.has_value());
    QString evidence = toText(core::evidenceLine(path.evidenceFacts));
    if (quote_->options.project && !path.projection && !path.notProjected.empty())
        evidence += QChar(u' ') + tr("No projection: %1.").arg(toText(path.notProjected));
    evidence_->setText(evidence);
    // The rows of what it rests on say it already, and the curve needs the room.
    evidence_->setVisible(!evidence.isEmpty() && sheet_->options().rows() != OptionModel::Rows::Basis);
    showNotes(path);
    showCurve(path);
}

void QuoteSide::showCurve(const core::PathQuote& path) {
    CurveData curves;
    curves.unit = quote_->options.unit;
    curves.level = quote_->options.level;
    curves.emptyText = tr("No repair on this path yet: no curve.");
    if (path.curve.size() > 0) {
        CurveSeries series = curveSeries(path.curve, toText(path.name), toText(path.name), 0);
        series.median = path.median;
        series.lives = path.lives;
        if (const auto& on = path.projection)
            series.projection = CurveProjection{on->miles, on->survival, on->lower, on->upper};
        curves.series.push_back(std::move(series));
    }
    chart_->setData(std::move(curves));
    chart_->setUnit(quote_->options.unit);
    chart_->setMark(path.alreadyRun ? path.alreadyRun : std::optional(static_cast<double>(path.horizon.at)),
                    path.alreadyRun ? tr("this vehicle now") : QString());
}

void QuoteSide::showNotes(const core::PathQuote& path) {
    QString html;
    const auto section = [&html](const QString& title, const std::vector<std::string>& lines) {
        if (lines.empty())
            return;
        html += QStringLiteral("<p style='margin:0 0 2px 0'><b>%1</b></p>").arg(title.toHtmlEscaped());
        for (const std::string& line : lines) {
            html += QStringLiteral("<p style='margin:0 0 4px 0'>%1</p>")
                        .arg(withLocalDates(toText(line)).toHtmlEscaped());
        }
        html += QStringLiteral("<p style='margin:0'>&nbsp;</p>");
    };
    section(tr("Check before you promise"), path.stale);
    section(tr("Cautions"), path.cautions);
    if (html.isEmpty())
        html = tr("No cautions on the shelf for this path.").toHtmlEscaped();
    notes_->setText(html);
}

void QuoteSide::openJobs(int column) {
    if (column < 0)
        return;
    const core::PathQuote& path = sheet_->options().path(column);
    if (path.jobs.empty())
        return;
    const QString name = toText(path.name);
    const QString lives = repairsText(path.lives);
    emit jobsWanted(path.jobs,
                    path.notFollowed > 0
                        ? tr("%1: %2 behind the quote, and %3 of which nothing is known since delivery")
                              .arg(name, lives, countText(path.notFollowed))
                        : tr("%1: %2 behind the quote").arg(name, lives));
}

void QuoteSide::copySentence() {
    QGuiApplication::clipboard()->setText(answer_->sentence());
    emit quoteGiven();
    emit said(tr("Copied: the sentence for %1").arg(toText(sheet_->options().path(chosenPath()).name)));
}

} // namespace milehold::ui
