// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/records/attachments_dialog.h"

#include "ui/theme/icons.h"
#include "ui/theme/theme.h"
#include "ui/widgets/record_table.h"
#include "ui/widgets/roles.h"
#include "ui/widgets/text.h"

#include <QDragEnterEvent>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QLabel>
#include <QLocale>
#include <QMimeData>
#include <QPushButton>
#include <QStandardItemModel>
#include <QUrl>
#include <QVBoxLayout>

namespace milehold::ui {

namespace {

bool isSound(const std::string& kind) {
    return kind == "wav" || kind == "mp3" || kind == "ogg" || kind == "flac";
}
bool isFilm(const std::string& kind) {
    return kind == "mp4" || kind == "webm";
}

QIcon iconFor(const std::string& kind) {
    if (kind == "pdf")
        return icon(QStringLiteral("note"));
    if (isSound(kind))
        return icon(QStringLiteral("sound"));
    return isFilm(kind) ? icon(QStringLiteral("play")) : icon(QStringLiteral("camera"));
}

QStringList filesIn(const QMimeData* data) {
    QStringList paths;
    for (const QUrl& url : data->urls())
        if (url.isLocalFile())
            paths << url.toLocalFile();
    return paths;
}

} // namespace

QString AttachmentsDialog::kindWord(const std::string& kind) {
    if (kind == "pdf")
        return tr("Page");
    if (isSound(kind))
        return tr("Sound");
    return isFilm(kind) ? tr("Film or sound") : tr("Photo");
}

AttachmentsDialog::AttachmentsDialog(const QString& jobTitle, QWidget* parent)
    : QDialog(parent), table_(new RecordTable(this)), sentence_(new QLabel(this)),
      open_(new QPushButton(tr("&Open a copy"), this)), remove_(new QPushButton(tr("&Remove"), this)) {
    setWindowTitle(tr("Photos and sounds"));
    setAcceptDrops(true);
    resize(760, 460);
    auto* stack = new QVBoxLayout(this);
    stack->setContentsMargins(kMargin, kMargin, kMargin, kMargin);
    stack->setSpacing(kGap);
    auto* title = new QLabel(jobTitle, this);
    title->setTextFormat(Qt::PlainText);
    theme::setText(title, TextRole::Title);
    stack->addWidget(title);
    table_->setAccessibleName(tr("Files of this job"));
    table_->setEmptyText(tr("No files yet. Add a photo, a sound, a film or a PDF page, or drop files here."));
    stack->addWidget(table_, 1);
    sentence_->setWordWrap(true);
    sentence_->setTextFormat(Qt::PlainText);
    theme::setText(sentence_, TextRole::Small, true);
    stack->addWidget(sentence_);
    auto* row = new QHBoxLayout;
    auto* add = new QPushButton(icon(QStringLiteral("add")), tr("&Add files"), this);
    theme::setRole(add, ButtonRole::Primary);
    auto* close = new QPushButton(tr("Close"), this);
    theme::setRole(remove_, ButtonRole::Quiet);
    row->addWidget(add);
    row->addWidget(open_);
    row->addWidget(remove_);
    row->addStretch(1);
    row->addWidget(close);
    stack->addLayout(row);
    connect(add, &QPushButton::clicked, this, &AttachmentsDialog::addWanted);
    connect(close, &QPushButton::clicked, this, &QDialog::reject);
    const auto openChosen = [this] {
        if (const auto id = chosen())
            emit openWanted(*id);
    };
    connect(open_, &QPushButton::clicked, this, openChosen);
    connect(table_, &RecordTable::opened, this, openChosen);
    connect(remove_, &QPushButton::clicked, this, [this] {
        if (const auto id = chosen())
            emit removeWanted(*id);
    });
    setAttachments({});
    add->setFocus();
}

void AttachmentsDialog::setAttachments(const std::vector<core::Attachment>& attachments) {
    attachments_ = attachments;
    auto* model = new QStandardItemModel(static_cast<int>(attachments.size()), 3, table_);
    model->setHorizontalHeaderLabels({tr("Name"), tr("Kind"), tr("Size")});
    for (int row = 0; row < model->rowCount(); ++row) {
        const core::Attachment& one = attachments[static_cast<std::size_t>(row)];
        auto* name = new QStandardItem(iconFor(one.kind), toText(one.name));
        auto* kind = new QStandardItem(
            tr("%1 (%2)").arg(kindWord(one.kind), QString::fromStdString(one.kind).toUpper()));
        auto* size = new QStandardItem(QLocale().formattedDataSize(one.size, 1));
        size->setTextAlignment(Qt::AlignRight | Qt::AlignVCenter);
        size->setData(static_cast<qlonglong>(one.size), kSortRole);
        for (auto* item : {name, kind, size})
            item->setEditable(false);
        model->setItem(row, 0, name);
        model->setItem(row, 1, kind);
        model->setItem(row, 2, size);
    }
    QAbstractItemModel* old = table_->records();
    table_->setRecords(model);
    table_->sortByColumn(-1, Qt::AscendingOrder); // as they were added
    table_->setSortingEnabled(false);
    if (old != nullptr)
        old->deleteLater();
    table_->horizontalHeader()->setSectionResizeMode(0, QHeaderView::Stretch);
    table_->setColumnWidth(1, 160);
    table_->setColumnWidth(2, 110);
    if (!attachments.empty())
        table_->setCurrentRecord(0);
    open_->setEnabled(!attachments.empty());
    remove_->setEnabled(!attachments.empty());
}

void AttachmentsDialog::say(const QString& sentence, bool isTrouble) {
    sentence_->setText(sentence);
    theme::setText(sentence_, TextRole::Small, !isTrouble);
}

std::optional<core::AttachmentId> AttachmentsDialog::chosen() const {
    const int row = table_->currentRecord();
    if (row < 0 || row >= static_cast<int>(attachments_.size()))
        return std::nullopt;
    return attachments_[static_cast<std::size_t>(row)].id;
}

void AttachmentsDialog::dragEnterEvent(QDragEnterEvent* event) {
    if (!filesIn(event->mimeData()).isEmpty())
        event->acceptProposedAction();
}

void AttachmentsDialog::dropEvent(QDropEvent* event) {
    const QStringList paths = filesIn(event->mimeData());
    if (paths.isEmpty())
        return;
    event->acceptProposedAction();
    emit filesDropped(paths);
}

} // namespace milehold::ui
