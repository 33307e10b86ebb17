// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/counter/counter_room.h"

#include "ui/charts/curve_chart.h"
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
#include "ui/words/labelled.h"

#include <QClipboard>
#include <QComboBox>
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

constexpr int kLeftWidth = 272;
constexpr int kSaySoonMs = 100;
enum Page { Options, Nothing };

} // namespace

CounterRoom::CounterRoom(QWidget* parent) : QWidget(parent) {
    pages_ = new QStackedWidget(this);
    pages_->addWidget(makeQuote());
    empty_ = new EmptyState(QStringLiteral("counter"), tr("Who is at the counter?"), QString(), this);
    pages_->addWidget(empty_);
    auto* row = new QHBoxLayout(this);
    row->setContentsMargins(kMargin, kGap, kMargin, kGap);
    row->setSpacing(kMargin);
    row->addWidget(makeLeft());
    row->addWidget(pages_, 1);
    busySoon_ = new QTimer(this);
    busySoon_->setSingleShot(true);
    busySoon_->setInterval(kSaySoonMs);
    connect(busySoon_, &QTimer::timeout, busy_, &QWidget::show);
    setQuote(nullptr);
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
    column->addLayout(labelled(tr("&Find the vehicle"), search_));
    column->addWidget(vehicle_, 1);
    column->addWidget(busy_);

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
    rows_ = new Segmented({tr("by years"), tr("by distance"), tr("from here on")}, page);
    rows_->setObjectName(QStringLiteral("rows"));
    rows_->setCurrent(0);
    rows_->button(2)->setToolTip(tr("Given that this vehicle's own repair has already run quiet so far"));
    sheet_ = new OptionSheet(page);
    auto* name = new QLabel(tr("Chance of being quiet"), page);
    theme::setText(name, TextRole::Lead);
    auto* under = new QLabel(tr("with 95 % limits"), page);
    theme::setText(under, TextRole::Small, true);
    auto* head = new QHBoxLayout;
    head->setSpacing(kGrid);
    head->addWidget(name);
    head->addWidget(under, 0, Qt::AlignBottom);
    head->addStretch();
    head->addWidget(rows_);

    auto* column = new QVBoxLayout(page);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(kGrid + kHalf);
    column->addWidget(makeSentence());
    column->addLayout(head);
    column->addWidget(sheet_);
    column->addWidget(makeLower(), 1);

    connect(rows_, &Segmented::chosen, this, [this](int chosen) {
        sheet_->setRows(static_cast<OptionModel::Rows>(chosen));
        sheet_->setFixedHeight(sheet_->fullHeight());
    });
    connect(sheet_, &OptionSheet::pathChosen, this, &CounterRoom::showPath);
    connect(sheet_, &OptionSheet::jobsAsked, this, &CounterRoom::openJobs);
    return page;
}

QWidget* CounterRoom::makeSentence() {
    auto* card = new Card(QString(), this);
    card->setEdge(Card::Edge::Chosen);
    pathName_ = new QLabel(card);
    theme::setText(pathName_, TextRole::Strong);
    price_ = new QLabel(card);
    theme::setText(price_, TextRole::Strong);
    sentence_ = wrappingLabel(card);
    sentence_->setObjectName(QStringLiteral("sentence"));
    theme::setText(sentence_, TextRole::Lead);
    horizonField_ = modestCombo(QStringLiteral("horizon"), 12, card);
    horizonField_->setSizePolicy(QSizePolicy::Fixed, QSizePolicy::Fixed);
    auto* horizonName = new QLabel(tr("Speak of the first"), card);
    theme::setText(horizonName, TextRole::Small, true);
    horizonName->setBuddy(horizonField_);
    horizonField_->setAccessibleName(horizonName->text());
    copy_ = new QPushButton(tr("&Copy the sentence"), card);
    copy_->setObjectName(QStringLiteral("copySentence"));
    copy_->setIcon(icon(QStringLiteral("copy")));
    theme::setRole(copy_, ButtonRole::Quiet);
    why_ = new QPushButton(tr("&Why this number"), card);
    why_->setObjectName(QStringLiteral("why"));
    why_->setIcon(icon(QStringLiteral("evidence")));
    theme::setRole(why_, ButtonRole::Quiet);
    page_ = new QPushButton(tr("&Page for the customer"), card);
    page_->setObjectName(QStringLiteral("page"));
    page_->setIcon(icon(QStringLiteral("print")));
    theme::setRole(page_, ButtonRole::Primary);

    auto* head = new QHBoxLayout;
    head->addWidget(pathName_, 1);
    head->addWidget(price_);
    auto* acts = new QHBoxLayout;
    acts->setSpacing(kGrid);
    acts->addWidget(horizonName);
    acts->addWidget(horizonField_);
    acts->addStretch();
    acts->addWidget(copy_);
    acts->addWidget(why_);
    acts->addWidget(page_);
    card->body()->setSpacing(kGrid);
    card->body()->addLayout(head);
    card->body()->addWidget(sentence_);
    card->body()->addLayout(acts);

    connect(horizonField_, &QComboBox::currentIndexChanged, this, [this] {
        if (filling_)
            return;
        horizon_ = horizonField_->currentData().toLongLong();
        emit quoteWanted();
    });
    connect(copy_, &QPushButton::clicked, this, &CounterRoom::copySentence);
    connect(why_, &QPushButton::clicked, this, [this] { openJobs(chosenPath()); });
    connect(page_, &QPushButton::clicked, this, &CounterRoom::pageWanted);
    return card;
}

QWidget* CounterRoom::makeLower() {
    auto* lower = new QWidget(this);
    chart_ = new CurveChart(lower);
    chart_->setObjectName(QStringLiteral("quoteCurve"));
    chart_->setKeyShown(false);
    notes_ = wrappingLabel(lower);
    notes_->setObjectName(QStringLiteral("notes"));
    notes_->setAlignment(Qt::AlignTop | Qt::AlignLeft);
    notes_->setTextFormat(Qt::RichText);
    theme::setText(notes_, TextRole::Small);
    auto* scroll = new QScrollArea(lower);
    scroll->setWidget(notes_);
    scroll->setWidgetResizable(true);
    scroll->setFrameShape(QFrame::NoFrame);
    scroll->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    scroll->setFixedWidth(kLeftWidth);
    auto* row = new QHBoxLayout(lower);
    row->setContentsMargins(0, 0, 0, 0);
    row->setSpacing(kGap);
    row->addWidget(chart_, 1);
    row->addWidget(scroll);
    connect(chart_, &CurveChart::seriesClicked, this, [this] { openJobs(chosenPath()); });
    return lower;
}

void CounterRoom::setChoices(const CounterChoices& choices) {
    choices_ = choices;
    vehicle_->setChoices(choices);
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
    const bool hasFromHere = sheet_->options().hasFromHere();
    rows_->button(2)->setVisible(hasFromHere);
    rows_->setCurrent(static_cast<int>(sheet_->options().rows()));
    sheet_->setFixedHeight(sheet_->fullHeight());
    showHorizons();
    showPath();
    pages_->setCurrentIndex(Options);
}

void CounterRoom::showHorizons() {
    filling_ = true;
    const core::PathQuote& first = quote_->paths.front();
    horizonField_->clear();
    const core::DistanceUnit unit = quote_->options.unit;
    for (const core::QuotePoint& point : first.byYear) {
        const QString years = point.years == 1 ? tr("1 year") : tr("%1 years").arg(point.years);
        horizonField_->addItem(tr("%1 (%2)").arg(years, distanceText(static_cast<double>(point.at), unit)),
                               QVariant::fromValue<qlonglong>(point.at));
    }
    for (const core::QuotePoint& point : first.byMark) {
        horizonField_->addItem(distanceText(static_cast<double>(point.at), unit),
                               QVariant::fromValue<qlonglong>(point.at));
    }
    const auto now = static_cast<qlonglong>(first.horizon.at);
    int place = horizonField_->findData(QVariant::fromValue(now));
    if (place < 0) {
        horizonField_->addItem(distanceText(static_cast<double>(now), unit), QVariant::fromValue(now));
        place = horizonField_->count() - 1;
    }
    horizonField_->setCurrentIndex(place);
    filling_ = false;
}

void CounterRoom::showPath() {
    const int column = chosenPath();
    if (column < 0)
        return;
    const core::PathQuote& path = sheet_->options().path(column);
    pathName_->setText(toText(path.name));
    price_->setText(path.price.minor > 0 ? priceText(path.price, choices_.currency) : tr("no price yet"));
    sentence_->setText(toText(path.sentence));
    why_->setEnabled(!path.jobs.empty());
    showNotes(path);

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
    emit said(tr("Copied: the sentence for %1").arg(pathName_->text()));
}

void CounterRoom::paintChart(QPainter& painter, const QRectF& rect) const {
    chart_->paintVector(painter, rect);
}

} // namespace milehold::ui
