// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/counter/counter_room.h"

#include "ui/charts/curve_chart.h"
#include "ui/counter/calls_panel.h"
#include "ui/counter/option_sheet.h"
#include "ui/counter/vehicle_panel.h"
#include "ui/counter/vehicle_words.h"
#include "ui/theme/icons.h"
#include "ui/theme/theme.h"
#include "ui/widgets/card.h"
#include "ui/widgets/search_box.h"
#include "ui/widgets/segmented.h"
#include "ui/widgets/text.h"
#include "ui/words/amounts.h"
#include "ui/words/chance.h"
#include "ui/words/elided_label.h"
#include "ui/words/labelled.h"

#include <QClipboard>
#include <QGuiApplication>
#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QScrollArea>
#include <QStackedWidget>
#include <QTimer>
#include <QVBoxLayout>

namespace milehold::ui {

namespace {

constexpr int kLeftWidth = 264;
constexpr int kAnswerWidth = 168;
constexpr int kLowestChart = 130;
constexpr int kTallRoom = 820;
constexpr int kSaySoonMs = 100;
enum Page { Options, Nothing };
enum Side { Quote, Calls };

} // namespace

CounterRoom::CounterRoom(QWidget* parent) : QWidget(parent) {
    auto* quote = new QWidget(this);
    pages_ = new QStackedWidget(quote);
    pages_->addWidget(makeQuote());
    empty_ = new EmptyState(QStringLiteral("counter"), tr("Who is at the counter?"), QString(), this);
    pages_->addWidget(empty_);
    auto* row = new QHBoxLayout(quote);
    row->setContentsMargins(0, 0, 0, 0);
    row->setSpacing(kMargin);
    row->addWidget(makeLeft());
    row->addWidget(pages_, 1);
    sides_ = new QStackedWidget(this);
    sides_->addWidget(quote);
    sides_->addWidget(makeCallsPage());
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(kMargin, kGap, kMargin, kGap);
    column->addWidget(sides_);
    busySoon_ = new QTimer(this);
    busySoon_->setSingleShot(true);
    busySoon_->setInterval(kSaySoonMs);
    connect(busySoon_, &QTimer::timeout, busy_, &QWidget::show);
    setQuote(nullptr);
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
    connect(calls_, &CallsPanel::answered, this, &CounterRoom::callAnswered);
    connect(calls_, &CallsPanel::jobWanted, this,
            [this](core::JobId job) { emit jobsWanted({job}, tr("The job of a call to make")); });
    return page;
}

void CounterRoom::setCalls(std::vector<CallToMake> calls, std::size_t all) {
    calls_->setCalls(std::move(calls), all);
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

QWidget* CounterRoom::makeLeft() {
    auto* left = new QWidget(this);
    left->setFixedWidth(kLeftWidth);
    search_ = new SearchBox(left);
    search_->setObjectName(QStringLiteral("findVehicle"));
    search_->setPlaceholderText(tr("VIN, plate, customer, phone"));
    search_->setNothingFoundText(tr("Nothing found. Describe the vehicle by hand below."));
    theme::setLarge(search_);
    vehicle_ = new VehiclePanel(left);
    busy_ = new QLabel(tr("Working it out \u2026"), left);
    theme::setText(busy_, TextRole::Small, true);
    busy_->hide();

    auto* column = new QVBoxLayout(left);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(kGap);
    column->addWidget(makeSwitch(left), 0, Qt::AlignLeft);
    column->addLayout(labelled(tr("&Find the vehicle"), search_));
    column->addWidget(vehicle_);
    column->addWidget(busy_);
    column->addWidget(makeNotes(), 1);

    connect(search_, &SearchBox::queryChanged, this, &CounterRoom::searchWanted);
    connect(search_, &SearchBox::chosen, this, [this](const QVariant& key) {
        if (const auto id = core::uuidFromString(toUtf8(key.toString())))
            emit vehicleWanted({*id});
        search_->clear();
    });
    connect(vehicle_, &VehiclePanel::edited, this, &CounterRoom::quoteWanted);
    connect(vehicle_, &VehiclePanel::startAgainWanted, this, &CounterRoom::startAgain);
    connect(vehicle_, &VehiclePanel::openVehicleWanted, this, [this] {
        if (const auto shown = vehicle_->vehicle().vehicle)
            emit openVehicleWanted(shown->id);
    });
    return left;
}

QWidget* CounterRoom::makeQuote() {
    auto* page = new QWidget(this);
    rows_ = new Segmented({}, page);
    rows_->setObjectName(QStringLiteral("rows"));
    sheet_ = new OptionSheet(page);
    auto* name = new QLabel(tr("Chance of being quiet"), page);
    theme::setText(name, TextRole::Lead);
    auto* under =
        new QLabel(tr("with 95 % limits; the sentence speaks of the row and path that you choose"), page);
    theme::setText(under, TextRole::Small, true);
    under->setMinimumWidth(1);
    under->setSizePolicy(QSizePolicy::Ignored, QSizePolicy::Preferred);
    chart_ = new CurveChart(page);
    chart_->setObjectName(QStringLiteral("quoteCurve"));
    chart_->setKeyShown(false);
    chart_->setMinimumHeight(kLowestChart);
    auto* head = new QHBoxLayout;
    head->setSpacing(kGrid);
    head->addWidget(name);
    head->addWidget(under, 1);
    head->addWidget(rows_);

    auto* column = new QVBoxLayout(page);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(kGrid);
    column->addWidget(makeSentence());
    column->addLayout(head);
    column->addWidget(sheet_);
    column->addWidget(chart_, 1);

    connect(rows_, &Segmented::chosen, this,
            [this](int chosen) { sheet_->setRows(static_cast<OptionModel::Rows>(chosen)); });
    connect(sheet_, &OptionSheet::pathChosen, this, &CounterRoom::showPath);
    connect(sheet_, &OptionSheet::horizonChosen, this, [this](std::int64_t distance) {
        horizon_ = distance;
        emit quoteWanted();
    });
    connect(sheet_, &OptionSheet::jobsAsked, this, &CounterRoom::openJobs);
    connect(chart_, &CurveChart::seriesClicked, this, [this] { openJobs(chosenPath()); });
    return page;
}

QWidget* CounterRoom::makeSentence() {
    auto* card = new Card(QString(), this);
    card->setEdge(Card::Edge::Chosen);
    pathName_ = new ElidedLabel(card);
    theme::setText(pathName_, TextRole::Lead);
    answer_ = new BigNumber(QString(), card);
    answer_->setFixedWidth(kAnswerWidth);
    sentence_ = wrappingLabel(card);
    sentence_->setObjectName(QStringLiteral("sentence"));
    sentence_->setAlignment(Qt::AlignTop | Qt::AlignLeft);
    copy_ = new QPushButton(tr("&Copy"), card);
    copy_->setObjectName(QStringLiteral("copySentence"));
    copy_->setIcon(icon(QStringLiteral("copy")));
    copy_->setToolTip(tr("Copies the sentence"));
    theme::setRole(copy_, ButtonRole::Quiet);
    why_ = new QPushButton(tr("&Why this number"), card);
    why_->setObjectName(QStringLiteral("why"));
    why_->setIcon(icon(QStringLiteral("evidence")));
    why_->setToolTip(tr("Opens the jobs behind it"));
    theme::setRole(why_, ButtonRole::Quiet);
    page_ = new QPushButton(tr("&Page for the customer"), card);
    page_->setObjectName(QStringLiteral("page"));
    page_->setIcon(icon(QStringLiteral("print")));
    theme::setRole(page_, ButtonRole::Primary);

    auto* head = new QHBoxLayout;
    head->setSpacing(kHalf);
    head->addWidget(pathName_, 1);
    head->addWidget(copy_);
    head->addWidget(why_);
    head->addWidget(page_);
    auto* said = new QHBoxLayout;
    said->setSpacing(kGap);
    said->addWidget(answer_, 0, Qt::AlignTop);
    said->addWidget(sentence_, 1);
    card->body()->setSpacing(kHalf);
    card->body()->addLayout(head);
    card->body()->addLayout(said);

    connect(copy_, &QPushButton::clicked, this, &CounterRoom::copySentence);
    connect(why_, &QPushButton::clicked, this, [this] { openJobs(chosenPath()); });
    connect(page_, &QPushButton::clicked, this, &CounterRoom::pageWanted);
    return card;
}

QWidget* CounterRoom::makeNotes() {
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

void CounterRoom::resizeEvent(QResizeEvent* event) {
    QWidget::resizeEvent(event);
    // On a low screen the watched counts give way to the curve; the sheet has the numbers.
    chart_->setWatchedShown(height() >= kTallRoom);
}

void CounterRoom::setChoices(const CounterChoices& choices) {
    choices_ = choices;
    vehicle_->setChoices(choices);
    calls_->setUnit(choices.unit);
}

void CounterRoom::setFound(const QString& text, const std::vector<VehicleFound>& found) {
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

void CounterRoom::setVehicle(const CounterVehicle& vehicle) {
    horizon_ = 0;
    vehicle_->setVehicle(vehicle);
    if (vehicle.family) {
        emit quoteWanted();
    } else {
        setQuote(nullptr);
    }
}

CounterVehicle CounterRoom::vehicle() const {
    return vehicle_->vehicle();
}

std::optional<CounterQuery> CounterRoom::query() const {
    if (!vehicle_->isComplete())
        return std::nullopt;
    const CounterVehicle shown = vehicle_->vehicle();
    CounterQuery query;
    query.subject = {shown.family, shown.modelYear, shown.calibration, shown.yearly, shown.running};
    if (shown.vehicle)
        query.vehicle = shown.vehicle->id;
    query.horizon = horizon_;
    return query;
}

int CounterRoom::chosenPath() const {
    return quote_ ? sheet_->chosenPath() : -1;
}

void CounterRoom::startAgain() {
    setVehicle({});
    focusSearch();
}

void CounterRoom::focusSearch() {
    search_->setFocus(Qt::ShortcutFocusReason);
    search_->selectAll();
}

void CounterRoom::setBusy(bool busy) {
    if (busy) {
        if (!busySoon_->isActive() && busy_->isHidden())
            busySoon_->start();
        return;
    }
    busySoon_->stop();
    busy_->hide();
}

void CounterRoom::setProblem(const QString& sentence) {
    setBusy(false);
    setQuote(nullptr);
    empty_->setTexts(tr("No quote can be given"), sentence);
}

void CounterRoom::setQuote(std::shared_ptr<const core::Quote> quote) {
    setBusy(false);
    quote_ = std::move(quote);
    if (!quote_) {
        empty_->setTexts(
            tr("Who is at the counter?"),
            tr("Find the vehicle, or choose its engine family. Then every repair path that applies stands "
               "here side by side: what it costs, and how long it has lasted in this shop."));
        pages_->setCurrentIndex(Nothing);
        return;
    }
    if (quote_->paths.empty()) {
        empty_->setTexts(tr("No repair path applies"),
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

void CounterRoom::showRowChoices() {
    QStringList choices{tr("by years"), tr("by distance")};
    const bool hasFromHere = sheet_->options().hasFromHere();
    if (hasFromHere)
        choices << tr("from here on");
    // Building them anew would take the keyboard away from whoever is there.
    if ((rows_->button(2) != nullptr) != hasFromHere || !rows_->button(0))
        rows_->setChoices(choices);
    rows_->setCurrent(static_cast<int>(sheet_->options().rows()));
    if (hasFromHere) {
        rows_->button(2)->setToolTip(tr("Given that this vehicle's own repair has already run quiet so far"));
    }
}

void CounterRoom::showPath() {
    const int column = chosenPath();
    if (column < 0)
        return;
    const core::PathQuote& path = sheet_->options().path(column);
    const QString price =
        path.price.minor > 0 ? priceText(path.price, choices_.currency) : tr("no price yet");
    const QString name = tr("%1, %2").arg(toText(path.name), price);
    pathName_->setText(name);
    sentence_->setText(toText(path.sentence));
    why_->setEnabled(!path.jobs.empty());
    showAnswer(path);
    showNotes(path);
    showCurve(path);
}

void CounterRoom::showAnswer(const core::PathQuote& path) {
    const ChanceWords words = chanceAt(path.horizon, path);
    answer_->setLabel(tr("Still quiet at %1")
                          .arg(distanceText(static_cast<double>(path.horizon.at), quote_->options.unit)));
    answer_->setValue(words.figure);
    answer_->setNote(words.under);
}

void CounterRoom::showCurve(const core::PathQuote& path) {
    CurveData curves;
    curves.unit = quote_->options.unit;
    curves.level = quote_->options.level;
    curves.emptyText = tr("No repair on this path yet: no curve.");
    if (path.curve.size() > 0) {
        CurveSeries series = curveSeries(path.curve, toText(path.name), toText(path.name), 0);
        series.median = path.median;
        curves.series.push_back(std::move(series));
    }
    chart_->setData(std::move(curves));
    chart_->setUnit(quote_->options.unit);
    chart_->setMark(path.alreadyRun ? path.alreadyRun : std::optional(static_cast<double>(path.horizon.at)),
                    path.alreadyRun ? tr("this vehicle now") : QString());
}

void CounterRoom::showNotes(const core::PathQuote& path) {
    QString html;
    const auto section = [&html](const QString& title, const std::vector<std::string>& lines) {
        if (lines.empty())
            return;
        html += QStringLiteral("<p style='margin:0 0 2px 0'><b>%1</b></p>").arg(title.toHtmlEscaped());
        for (const std::string& line : lines) {
            html += QStringLiteral("<p style='margin:0 0 4px 0'>%1</p>").arg(toText(line).toHtmlEscaped());
        }
        html += QStringLiteral("<p style='margin:0'>&nbsp;</p>");
    };
    section(tr("Check before you promise"), path.stale);
    section(tr("Cautions"), path.cautions);
    if (html.isEmpty())
        html = tr("No cautions on the shelf for this path.").toHtmlEscaped();
    notes_->setText(html);
}

void CounterRoom::openJobs(int column) {
    if (column < 0)
        return;
    const core::PathQuote& path = sheet_->options().path(column);
    if (path.jobs.empty())
        return;
    emit jobsWanted(path.jobs, tr("%1: %2 behind the quote").arg(toText(path.name), repairsText(path.lives)));
}

void CounterRoom::copySentence() {
    QGuiApplication::clipboard()->setText(sentence_->text());
    emit said(tr("Copied: the sentence for %1").arg(toText(sheet_->options().path(chosenPath()).name)));
}

} // namespace milehold::ui
