// SPDX-License-Identifier: GPL-3.0-or-later
// The photos and sounds of a job: added, listed, looked at in a copy, removed.
#include "app/desktop/error_sentence.h"
#include "app/desktop/exchange_controller.h"
#include "app/desktop/file_dialogs.h"
#include "app/desktop/records_desk.h"
#include "storage/attachment_store.h"
#include "storage/shop.h"
#include "ui/bay/bay_room.h"
#include "ui/records/attachments_dialog.h"
#include "ui/shell/main_window.h"
#include "ui/widgets/text.h"

#include <QDesktopServices>
#include <QDir>
#include <QDragEnterEvent>
#include <QFileInfo>
#include <QMimeData>
#include <QUrl>

namespace milehold::app {

namespace {

std::filesystem::path toPath(const QString& path) {
    return std::filesystem::path(path.toStdU16String());
}

struct Added {
    int added = 0;
    QString trouble; ///< of the last that was not
};

/// A reason that the store gives in a sentence of its own needs no other beside it.
QString troubleOf(const core::Error& error) {
    if (error.code != core::ErrorCode::InvalidInput)
        return sentenceFor(error);
    QString sentence = ui::toText(error.detail);
    if (!sentence.isEmpty())
        sentence[0] = sentence[0].toUpper();
    return RecordsDesk::tr("Not added. %1.").arg(sentence);
}

} // namespace

void RecordsDesk::showAttachments() {
    const Current now = current();
    if (!now.job) {
        emit said(tr("Open a job that is saved to see its photos and sounds"));
        return;
    }
    const core::JobId job = *now.job;
    attachments_ = new ui::AttachmentsDialog(now.jobTitle, &window_);
    attachments_->setAttribute(Qt::WA_DeleteOnClose);
    connect(attachments_, &QObject::destroyed, this, [this, mine = attachments_] {
        if (attachments_ == mine)
            attachments_ = nullptr;
    });
    connect(attachments_, &ui::AttachmentsDialog::addWanted, this, [this, job] {
        const QStringList paths =
            askForFiles(attachments_, tr("Photos, sounds and pages"), QDir::homePath(), {});
        if (!paths.isEmpty())
            addFiles(job, paths);
    });
    connect(attachments_, &ui::AttachmentsDialog::filesDropped, this,
            [this, job](const QStringList& paths) { addFiles(job, paths); });
    connect(attachments_, &ui::AttachmentsDialog::openWanted, this, &RecordsDesk::openAttachment);
    connect(attachments_, &ui::AttachmentsDialog::removeWanted, this,
            [this, job](core::AttachmentId id) { removeAttachment(job, id); });
    listAttachments(job);
    attachments_->open();
}

void RecordsDesk::listAttachments(core::JobId job) {
    database_.ask(
        this, [job](storage::Shop& shop) { return storage::attachmentsOf(shop).ofJob(job); },
        [this](core::Result<std::vector<core::Attachment>> found) {
            if (!found)
                return failed(found.error());
            if (attachments_ != nullptr)
                attachments_->setAttachments(*found);
        });
}

void RecordsDesk::addFiles(core::JobId job, const QStringList& paths) {
    database_.ask(
        this,
        [job, paths](storage::Shop& shop) -> core::Result<Added> {
            Added result;
            for (const QString& path : paths) {
                const auto added = storage::attachmentsOf(shop).add(job, toPath(path),
                                                                    ui::toUtf8(QFileInfo(path).fileName()));
                if (added)
                    ++result.added;
                else if (const QString why = troubleOf(added.error()); !result.trouble.contains(why))
                    result.trouble += (result.trouble.isEmpty() ? QString() : QStringLiteral(" ")) + why;
            }
            return result;
        },
        [this, job](core::Result<Added> result) {
            if (!result)
                return failed(result.error());
            const QString done = result->added == 1 ? tr("1 file added to the job")
                                                    : tr("%1 files added to the job").arg(result->added);
            const QString sentence = result->trouble.isEmpty() ? done
                                     : result->added > 0
                                         ? tr("%1. Of the others: %2").arg(done, result->trouble)
                                         : result->trouble;
            if (attachments_ != nullptr)
                attachments_->say(sentence, !result->trouble.isEmpty());
            else
                emit said(sentence);
            listAttachments(job);
            if (result->added > 0)
                database_.announceChange();
        });
}

void RecordsDesk::openAttachment(core::AttachmentId id) {
    database_.ask(
        this,
        [id, folder = toPath(copies_.path())](storage::Shop& shop) {
            return storage::attachmentsOf(shop).copyToRead(id, folder);
        },
        [this](core::Result<std::filesystem::path> copy) {
            if (!copy && attachments_ != nullptr)
                return attachments_->say(sentenceFor(copy.error()), true);
            if (!copy)
                return failed(copy.error());
            const QString file = QString::fromStdU16String(copy->u16string());
            if (!QDesktopServices::openUrl(QUrl::fromLocalFile(file)) && attachments_ != nullptr)
                attachments_->say(tr("This desktop has no program for such a file"), true);
        });
}

void RecordsDesk::removeAttachment(core::JobId job, core::AttachmentId id) {
    database_.ask(
        this, [id](storage::Shop& shop) { return storage::attachmentsOf(shop).remove(id); },
        [this, job](core::Result<void> done) {
            if (!done)
                return failed(done.error());
            if (attachments_ != nullptr)
                attachments_->say(tr("Taken off the job; backups keep it for their time"));
            listAttachments(job);
            database_.announceChange();
        });
}

bool RecordsDesk::eventFilter(QObject* watched, QEvent* event) {
    if (watched != bay_ || (event->type() != QEvent::DragEnter && event->type() != QEvent::Drop))
        return QObject::eventFilter(watched, event);
    auto* drop = static_cast<QDropEvent*>(event);
    QStringList paths;
    for (const QUrl& url : drop->mimeData()->urls())
        if (url.isLocalFile())
            paths << url.toLocalFile();
    const Current now = current();
    if (paths.isEmpty() || !now.job || !bay_->isSheetOpen())
        return QObject::eventFilter(watched, event);
    drop->acceptProposedAction();
    if (event->type() == QEvent::Drop)
        addFiles(*now.job, paths);
    return true;
}

} // namespace milehold::app
