// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/shelf/shelf_room.h"

#include "core/shop/stale_facts.h"
#include "ui/shelf/detail_pane.h"
#include "ui/shelf/shelf_index.h"
#include "ui/shelf/shelf_table_model.h"
#include "ui/theme/icons.h"
#include "ui/theme/theme.h"
#include "ui/widgets/card.h"
#include "ui/widgets/record_table.h"
#include "ui/widgets/text.h"

#include <QHBoxLayout>
#include <QHeaderView>
#include <QKeyEvent>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QShortcut>
#include <QUuid>
#include <QVBoxLayout>

#include <algorithm>

namespace milehold::ui {
namespace {

constexpr int kWidestFigure = 150;

constexpr int kListWidth = 392;
constexpr int kWidestList = 560;

core::Uuid makeUuid() {
    const QByteArray bytes = QUuid::createUuid().toRfc4122();
    core::Uuid uuid;
    std::transform(bytes.begin(), bytes.end(), uuid.bytes.begin(),
                   [](char c) { return static_cast<std::uint8_t>(c); });
    return uuid;
}

std::optional<core::ShelfSubject> subjectOf(ShelfSection section) {
    switch (section) {
    case ShelfSection::Engines:
        return core::ShelfSubject::EngineFamily;
    case ShelfSection::Paths:
        return core::ShelfSubject::RepairPath;
    case ShelfSection::Parts:
        return core::ShelfSubject::PartNumber;
    case ShelfSection::Calibrations:
        return core::ShelfSubject::Calibration;
    default:
        return std::nullopt;
    }
}

} // namespace

ShelfRoom::ShelfRoom(QWidget* parent)
    : QWidget(parent), index_(new ShelfIndex(this)), listColumn_(nullptr), listTitle_(new QLabel(this)),
      hint_(new QLabel(this)), filter_(new QLineEdit(this)),
      add_(new QPushButton(icon(QStringLiteral("add")), QString(), this)), table_(new RecordTable(this)),
      model_(new ShelfTableModel(this)), detail_(new DetailPane(this)) {
    auto* row = new QHBoxLayout(this);
    row->setContentsMargins(kGap, kGap, kGap, kGap);
    row->setSpacing(kGap);
    row->addWidget(index_);
    listColumn_ = makeList();
    row->addWidget(listColumn_, 2);
    auto* card = new Card(QString(), this);
    card->body()->addWidget(detail_);
    row->addWidget(card, 5);

    connect(index_, &ShelfIndex::sectionChosen, this, &ShelfRoom::showList);
    connect(filter_, &QLineEdit::textChanged, table_, &RecordTable::setFilterText);
    connect(add_, &QPushButton::clicked, this, [this] { add(newRecord(section(), contents_)); });
    connect(table_, &RecordTable::currentChangedTo, this, [this](int line) {
        if (!refreshing_)
            showRow(line);
    });
    connect(table_, &RecordTable::opened, this, [this] { detail_->focusForm(); });
    connect(detail_, &DetailPane::edited, this, &ShelfRoom::keepDraft);
    connect(detail_, &DetailPane::takenBack, this, [this] {
        dropDraft(current_);
        refreshList(current_);
    });
    connect(detail_, &DetailPane::saveWanted, this, [this](const ShelfRecord& record) {
        keepDraft();
        saving_ = idOf(record);
        saved_ = record;
        detail_->setBusy(true);
        emit saveWanted(record);
    });
    connect(detail_, &DetailPane::removeWanted, this, &ShelfRoom::removeCurrent);
    connect(detail_, &DetailPane::checkedTodayWanted, this, &ShelfRoom::checkedToday);
    connect(detail_, &DetailPane::recordWanted, this, &ShelfRoom::openRecord);
    connect(detail_, &DetailPane::noteWanted, this, [this] {
        const ShelfRecord record = detail_->record();
        if (const auto subject = subjectOf(sectionOf(record)))
            writeNote(*subject, idOf(record));
    });
    addShortcuts();
    showList();
}

QWidget* ShelfRoom::makeList() {
    auto* column = new QWidget(this);
    column->setMinimumWidth(kListWidth);
    column->setMaximumWidth(kWidestList);
    auto* stack = new QVBoxLayout(column);
    stack->setContentsMargins(0, 0, 0, 0);
    stack->setSpacing(kGrid);
    auto* head = new QHBoxLayout;
    theme::setText(listTitle_, TextRole::Title);
    head->addWidget(listTitle_, 1);
    add_->setObjectName(QStringLiteral("add"));
    add_->setToolTip(tr("Ctrl+N"));
    head->addWidget(add_);
    hint_->setText(tr("Space: checked today"));
    theme::setText(hint_, TextRole::Small, true);
    head->addWidget(hint_);
    stack->addLayout(head);
    filter_->setObjectName(QStringLiteral("filter"));
    filter_->setClearButtonEnabled(true);
    filter_->setPlaceholderText(tr("Only those with …"));
    filter_->setAccessibleName(tr("Only records with these words"));
    stack->addWidget(filter_);
    table_->setObjectName(QStringLiteral("list"));
    table_->setRecords(model_);
    table_->setSelectionMode(QAbstractItemView::SingleSelection);
    table_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    table_->installEventFilter(this);
    stack->addWidget(table_, 1);
    return column;
}

void ShelfRoom::addShortcuts() {
    const auto add = [this](const QKeySequence& keys, auto&& act) {
        auto* shortcut = new QShortcut(keys, this);
        shortcut->setContext(Qt::WidgetWithChildrenShortcut);
        connect(shortcut, &QShortcut::activated, this, act);
    };
    add(QKeySequence::New, [this] {
        if (add_->isVisible())
            add_->click();
    });
    add(QKeySequence::Save, [this] { detail_->save(); });
    add(QKeySequence::Find, [this] {
        if (listColumn_->isVisible())
            filter_->setFocus(Qt::ShortcutFocusReason);
    });
    add(QKeySequence(Qt::CTRL | Qt::Key_T), [this] { checkedToday(); });
    add(QKeySequence(Qt::Key_Escape), [this] {
        if (listColumn_->isVisible())
            table_->setFocus(Qt::ShortcutFocusReason);
        else
            index_->setFocus(Qt::ShortcutFocusReason);
    });
}

bool ShelfRoom::eventFilter(QObject* watched, QEvent* event) {
    if (watched == table_ && event->type() == QEvent::KeyPress) {
        const int key = static_cast<QKeyEvent*>(event)->key();
        if (key == Qt::Key_Delete)
            removeCurrent();
        else if (key == Qt::Key_Space && section() == ShelfSection::WantsChecking)
            checkedToday();
        else
            return false;
        return true;
    }
    return QWidget::eventFilter(watched, event);
}

ShelfSection ShelfRoom::section() const {
    return index_->section();
}

void ShelfRoom::setContents(const ShelfContents& contents) {
    contents_ = contents;
    settleDrafts();
    std::array<int, kShelfSections> counts{};
    for (int i = 0; i < kShelfSections; ++i)
        counts[static_cast<std::size_t>(i)] = shelfCount(static_cast<ShelfSection>(i), contents_);
    index_->setCounts(counts);
    detail_->setContents(contents_);
    refreshList(current_);
}

void ShelfRoom::showSection(ShelfSection section) {
    index_->setSection(section);
}

void ShelfRoom::showList() {
    const ShelfSection now = section();
    listTitle_->setText(sectionName(now));
    const QString addText = sectionAddText(now);
    add_->setVisible(!addText.isEmpty());
    hint_->setVisible(now == ShelfSection::WantsChecking);
    detail_->setCheckFirst(now == ShelfSection::WantsChecking);
    add_->setText(tr("&Add"));
    add_->setAccessibleName(addText);
    table_->setEmptyText(sectionEmptyText(now));
    table_->setAccessibleName(sectionName(now));
    filter_->clear();
    listColumn_->setVisible(now != ShelfSection::Shop);
    current_ = {};
    refreshList(current_);
    table_->sortByColumn(-1, Qt::AscendingOrder); // the order in which the drawer lists them
}

void ShelfRoom::refreshList(const core::Uuid& keep) {
    const ShelfSection now = section();
    if (now == ShelfSection::Shop) {
        const auto draft = drafts_.find({});
        detail_->setRecord(contents_.settings, draft == drafts_.end() ? nullptr : &draft->second);
        tellMoved();
        return;
    }
    refreshing_ = true;
    const int before = table_->currentRecord();
    const bool hadFocus = table_->hasFocus();
    model_->setTable(shelfTable(now, contents_, drafts_));
    const ShelfTable& list = model_->table();
    QHeaderView* header = table_->horizontalHeader();
    header->setStretchLastSection(false);
    for (int column = 0; column < static_cast<int>(list.headers.size()); ++column) {
        header->setSectionResizeMode(column, column == list.stretched ? QHeaderView::Stretch
                                                                      : QHeaderView::Interactive);
        const bool isStatus =
            !list.rows.empty() && list.rows.front().cells[static_cast<std::size_t>(column)].status;
        const bool isBadge =
            !list.rows.empty() && list.rows.front().cells[static_cast<std::size_t>(column)].badge;
        table_->setItemDelegateForColumn(column, nullptr);
        if (isStatus)
            table_->setItemDelegateForColumn(column, new StatusDelegate(table_));
        if (isBadge)
            table_->setItemDelegateForColumn(column, new EngineBadgeDelegate(table_));
        // A price or a number is never cut for the sake of the name beside it.
        const int needed = static_cast<QAbstractItemView*>(table_)->sizeHintForColumn(column);
        if (const int asked = list.widths[static_cast<std::size_t>(column)]; asked > 0)
            header->resizeSection(column, std::max(asked, std::min(needed, kWidestFigure)));
    }
    int row = keep.isNull() ? -1 : model_->rowOf(keep);
    if (row < 0 && !list.rows.empty())
        row = std::clamp(before, 0, static_cast<int>(list.rows.size()) - 1);
    table_->setCurrentRecord(row);
    if (hadFocus)
        table_->setFocus(Qt::OtherFocusReason);
    refreshing_ = false;
    showRow(row);
}

void ShelfRoom::showRow(int row) {
    if (row < 0 || row >= model_->rowCount())
        return showNothing();
    const ShelfRow& line = model_->row(row);
    const auto record = recordOf(line.opens, line.id);
    if (!record)
        return showNothing();
    current_ = line.id;
    const auto draft = drafts_.find(line.id);
    detail_->setRecord(*record, draft == drafts_.end() ? nullptr : &draft->second);
    detail_->setBusy(saving_ == line.id);
    tellMoved();
}

void ShelfRoom::showNothing() {
    current_ = {};
    if (section() == ShelfSection::WantsChecking)
        detail_->clear(tr("All checked"), tr("Every fact on the shelf is within its date."));
    else
        detail_->clear(tr("Nothing here yet"), tr("Add the first one with Ctrl+N."));
}

std::optional<ShelfRecord> ShelfRoom::recordOf(ShelfSection section, const core::Uuid& id) const {
    if (auto stored = storedRecord(contents_, section, id))
        return stored;
    const auto draft = drafts_.find(id);
    if (draft == drafts_.end() || sectionOf(draft->second.base) != section)
        return std::nullopt;
    return draft->second.base;
}

void ShelfRoom::openRecord(ShelfSection section, const core::Uuid& id) {
    if (section != this->section())
        index_->setSection(section);
    filter_->clear();
    refreshList(id);
}

void ShelfRoom::add(ShelfRecord record) {
    setId(record, makeUuid());
    const core::Uuid id = idOf(record);
    ShelfRecord blank = newRecord(sectionOf(record), contents_);
    setId(blank, id);
    const ShelfSection section = sectionOf(record);
    drafts_[id] = {std::move(blank), std::move(record), {}};
    openRecord(section, id);
    detail_->focusForm();
}

void ShelfRoom::writeNote(core::ShelfSubject subject, const core::Uuid& about) {
    core::ShelfNote note;
    note.subject = subject;
    note.subjectId = about;
    note.freshness = core::checkedToday({}, contents_.today);
    add(note);
}

void ShelfRoom::removeCurrent() {
    if (!detail_->hasRecord() || section() == ShelfSection::Shop)
        return;
    const core::Uuid id = current_;
    const ShelfRecord record = detail_->record();
    if (revisionOf(record) == 0) { // it was never stored
        dropDraft(id);
        refreshList({});
        table_->setFocus(Qt::OtherFocusReason);
        return;
    }
    if (const auto stored = storedRecord(contents_, sectionOf(record), id)) {
        saving_ = id;
        saved_.reset();
        detail_->setBusy(true);
        emit removeWanted(*stored);
    }
}

void ShelfRoom::checkedToday() {
    if (!detail_->hasRecord() || saving_)
        return;
    const bool alone = !detail_->isEdited() && revisionOf(detail_->record()) != 0;
    detail_->markCheckedToday();
    if (alone)
        detail_->save();
}

} // namespace milehold::ui
