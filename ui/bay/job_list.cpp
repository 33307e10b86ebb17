// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/bay/job_list.h"

#include "ui/shell/message_bar.h"
#include "ui/theme/icons.h"
#include "ui/theme/theme.h"
#include "ui/widgets/engine_plan.h"
#include "ui/widgets/record_table.h"
#include "ui/widgets/segmented.h"
#include "ui/widgets/status.h"

#include <QHBoxLayout>
#include <QHeaderView>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QShortcut>
#include <QTimer>
#include <QVBoxLayout>

#include <algorithm>

namespace milehold::ui {
namespace {
constexpr int kRestMs = 120;
constexpr int kWide = 1360;
} // namespace

JobList::JobList(QWidget* parent)
    : QWidget(parent), model_(new JobTableModel(this)), drafts_(new MessageBar(this)),
      title_(new QLabel(this)), search_(new QLineEdit(this)),
      shown_(new Segmented({tr("In work"), tr("Finished"), tr("All")}, this)),
      new_(new QPushButton(tr("&New job"), this)), given_(new QLabel(this)), givenRow_(new QWidget(this)),
      table_(new RecordTable(this)), foot_(new QLabel(this)), rest_(new QTimer(this)) {
    auto* stack = new QVBoxLayout(this);
    stack->setContentsMargins(kMargin, kGap, kMargin, kGap);
    stack->setSpacing(12);
    stack->addWidget(drafts_);
    stack->addLayout(makeHead());
    stack->addWidget(makeGivenRow());
    setUpTable();
    stack->addWidget(table_, 1);
    theme::setText(foot_, TextRole::Small, true);
    stack->addWidget(foot_);
    connectAll();
    updateEmptyText();
}

QHBoxLayout* JobList::makeHead() {
    auto* head = new QHBoxLayout;
    head->setSpacing(kGap);
    title_->setText(tr("Jobs"));
    theme::setText(title_, TextRole::Title);
    head->addWidget(title_);
    shown_->setObjectName(QStringLiteral("jobsShown"));
    shown_->setAccessibleName(tr("Which jobs"));
    shown_->setCurrent(0);
    head->addWidget(shown_);
    search_->setObjectName(QStringLiteral("jobSearch"));
    search_->setAccessibleName(tr("Find a job"));
    search_->setPlaceholderText(tr("Find: VIN, plate, name, phone, job or repair order"));
    search_->setClearButtonEnabled(true);
    head->addWidget(search_, 1);
    new_->setObjectName(QStringLiteral("newJob"));
    new_->setToolTip(tr("N in the list, Ctrl+N everywhere in the Bay"));
    new_->setIcon(icon(QStringLiteral("add")));
    theme::setRole(new_, ButtonRole::Primary);
    head->addWidget(new_);
    return head;
}

QWidget* JobList::makeGivenRow() {
    auto* given = new QHBoxLayout(givenRow_);
    given->setContentsMargins(0, 0, 0, 0);
    theme::setText(given_, TextRole::Lead);
    given_->setWordWrap(true);
    auto* back = new QPushButton(tr("Show all jobs"), givenRow_);
    theme::setRole(back, ButtonRole::Quiet);
    given->addWidget(given_, 1);
    given->addWidget(back);
    givenRow_->hide();
    connect(back, &QPushButton::clicked, this, [this] { setShown(JobsShown::All); });
    return givenRow_;
}

void JobList::setUpTable() {
    table_->setObjectName(QStringLiteral("jobs"));
    table_->setAccessibleName(tr("Jobs"));
    table_->setRecords(model_);
    table_->setItemDelegateForColumn(JobTableModel::Standing, new StatusDelegate(table_));
    table_->setItemDelegateForColumn(JobTableModel::Engine, new EngineBadgeDelegate(table_));
    table_->setSelectionMode(QAbstractItemView::SingleSelection);
    const std::pair<int, int> widths[] = {
        {JobTableModel::Number, 64}, {JobTableModel::Standing, 144}, {JobTableModel::Vehicle, 176},
        {JobTableModel::Plate, 92},  {JobTableModel::Customer, 150}, {JobTableModel::Engine, 70},
        {JobTableModel::Path, 186},  {JobTableModel::Day, 100},      {JobTableModel::Odometer, 106},
        {JobTableModel::Known, 100}, {JobTableModel::Technician, 96}};
    for (const auto& [column, width] : widths)
        table_->setColumnWidth(column, width);
    table_->sortByColumn(JobTableModel::Number, Qt::DescendingOrder);
}

void JobList::connectAll() {
    rest_->setSingleShot(true);
    rest_->setInterval(kRestMs);
    connect(rest_, &QTimer::timeout, this, [this] {
        query_.text = search_->text().trimmed();
        emit queryChanged();
    });
    connect(search_, &QLineEdit::textEdited, rest_, qOverload<>(&QTimer::start));
    connect(search_, &QLineEdit::textChanged, this, [this](const QString& typed) {
        if (typed.isEmpty())
            rest_->start(); // the clear button
    });
    connect(search_, &QLineEdit::returnPressed, this, &JobList::focusList);
    connect(shown_, &Segmented::chosen, this, [this](int index) { setShown(static_cast<JobsShown>(index)); });
    connect(new_, &QPushButton::clicked, this, &JobList::newJobWanted);
    connect(table_, &RecordTable::opened, this, [this](int row) { emit jobOpened(model_->job(row).id); });
    connect(drafts_, &MessageBar::actionChosen, this, [this](const QString& key, int action) {
        drafts_->remove(key);
        if (action == 0)
            emit draftResumed(key);
        else
            emit draftDropped(key);
    });
    auto* plainN = new QShortcut(Qt::Key_N, table_);
    plainN->setContext(Qt::WidgetShortcut);
    connect(plainN, &QShortcut::activated, this, &JobList::newJobWanted);
    auto* find = new QShortcut(QKeySequence::Find, this);
    find->setContext(Qt::WidgetWithChildrenShortcut);
    connect(find, &QShortcut::activated, search_, [this] {
        search_->setFocus();
        search_->selectAll();
    });
}

void JobList::setJobs(std::vector<JobListRow> rows, bool more) {
    const int current = table_->currentRecord();
    const auto kept = current >= 0 ? std::optional(model_->job(current).id) : std::nullopt;
    foot_->setText(more ? tr("The newest %1 of more: search to narrow them down.").arg(rows.size())
                   : rows.size() == 1 ? tr("1 job")
                                      : tr("%1 jobs").arg(rows.size()));
    model_->setJobs(std::move(rows));
    if (kept)
        selectJob(*kept);
    updateEmptyText();
}

void JobList::resizeEvent(QResizeEvent* event) {
    QWidget::resizeEvent(event);
    showColumns();
}

void JobList::showColumns() {
    // Whose vehicle it is matters least to who repairs it: that column comes where there is room.
    table_->setColumnHidden(JobTableModel::Customer, width() < kWide);
    // A job in work has not been quiet for any distance yet.
    table_->setColumnHidden(JobTableModel::Known, query_.shown == JobsShown::InWork);
}

void JobList::setUnit(core::DistanceUnit unit) {
    model_->setUnit(unit);
}

void JobList::setProblem(const QString& sentence) {
    model_->setJobs({});
    foot_->clear();
    table_->setEmptyText(sentence);
}

void JobList::setShown(JobsShown shown) {
    query_.shown = shown;
    shown_->setCurrent(shown == JobsShown::Given ? -1 : static_cast<int>(shown));
    givenRow_->setVisible(shown == JobsShown::Given);
    showColumns();
    updateEmptyText();
    emit queryChanged();
}

void JobList::showGiven(const QString& why) {
    given_->setText(why);
    search_->clear();
    query_.text.clear();
    setShown(JobsShown::Given);
}

void JobList::setDrafts(const QList<DraftOffer>& drafts) {
    for (const auto& key : draftKeys_)
        drafts_->remove(key);
    draftKeys_.clear();
    for (const auto& draft : drafts) {
        MessageBar::Message message;
        message.id = draft.key;
        message.kind = MessageBar::Kind::NeedsYou;
        message.text = tr("Unfinished: %1, last typed %2").arg(draft.what, draft.when);
        message.actions = {tr("Go on with it"), tr("Throw it away")};
        message.dismissable = false;
        drafts_->show(message);
        draftKeys_ << draft.key;
    }
}

void JobList::selectJob(core::JobId job) {
    table_->setCurrentRecord(model_->rowOf(job));
}

QWidget* JobList::list() const {
    return table_;
}

std::optional<core::VehicleId> JobList::currentVehicle() const {
    const int row = table_->currentRecord();
    return row < 0 || row >= model_->rowCount() ? std::nullopt : std::optional(model_->job(row).vehicle);
}

void JobList::focusList() {
    table_->setFocus(Qt::ShortcutFocusReason);
}

void JobList::setContext(const BayContext& context) {
    const QStringList before = missing_;
    missing_.clear();
    if (context.shelf->families.empty())
        missing_ << tr("an engine family");
    if (context.shelf->paths.empty())
        missing_ << tr("a repair path");
    if (std::none_of(context.staff.begin(), context.staff.end(),
                     [](const core::Staff& person) { return person.technician && person.active; }))
        missing_ << tr("a technician");
    if (missing_ != before)
        updateEmptyText();
}

void JobList::updateEmptyText() {
    if (!query_.text.isEmpty())
        table_->setEmptyText(tr("No job fits \"%1\".").arg(query_.text));
    else if (!missing_.isEmpty())
        table_->setEmptyText(
            tr("Start on the Shelf (Alt+4). A finished job still wants: %1. Then press N to log "
               "the first one.")
                .arg(missing_.join(QStringLiteral(", "))));
    else if (query_.shown == JobsShown::InWork)
        table_->setEmptyText(
            tr("No vehicle is in work. Press N to log a job: scan the VIN, tap what was done, type "
               "the odometer."));
    else
        table_->setEmptyText(tr("No jobs yet. Press N to log the first one."));
}

} // namespace milehold::ui
