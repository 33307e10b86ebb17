// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/backup_list.h"

#include "app/desktop/error_sentence.h"
#include "storage/backup_shelf.h"
#include "storage/machine_clock.h"
#include "storage/off_machine.h"
#include "storage/shop.h"
#include "ui/backup/backups_dialog.h"
#include "ui/shell/main_window.h"

#include <QLocale>

#include <algorithm>

namespace milehold::app {

namespace {

QDateTime utc(core::Moment at) {
    return QDateTime::fromMSecsSinceEpoch(at.time_since_epoch().count(), Qt::UTC);
}

QString keyOf(const storage::BackupInfo& backup) {
    return QString::fromStdString(backup.folder.filename().string());
}

QString dayText(core::Moment at) {
    return QLocale().toString(utc(at).toLocalTime().date(), QLocale::ShortFormat);
}

} // namespace

QString backupReasonText(storage::BackupReason reason) {
    using storage::BackupReason;
    switch (reason) {
    case BackupReason::OnDemand:
        return BackupList::tr("asked for");
    case BackupReason::Close:
        return BackupList::tr("shop closed");
    case BackupReason::Daily:
        return BackupList::tr("by itself");
    case BackupReason::BeforeMigration:
        return BackupList::tr("before a newer program");
    case BackupReason::BeforeErasure:
        return BackupList::tr("before forgetting a customer");
    case BackupReason::BeforeImport:
        return BackupList::tr("before an import");
    case BackupReason::BeforeRestore:
        return BackupList::tr("before a restore");
    }
    return {};
}

BackupList::BackupList(ui::MainWindow& window, Database& database, std::function<QString()> askFolder,
                       QObject* parent)
    : QObject(parent), window_(window), database_(database), askFolder_(std::move(askFolder)) {
    connect(&window_, &ui::MainWindow::backupsWanted, this, &BackupList::show);
    refresh();
}

void BackupList::show() {
    if (!dialog_) {
        dialog_ = new ui::BackupsDialog(&window_);
        dialog_->setAttribute(Qt::WA_DeleteOnClose);
        connect(dialog_, &ui::BackupsDialog::backUpWanted, this, [this] {
            begin(tr("Copying the shop's book"));
            database_.ask(
                this, [](storage::Shop& shop) { return shop.backUp(storage::BackupReason::OnDemand); },
                [this](const core::Result<storage::BackupInfo>& made) {
                    end(made ? core::Result<void>() : core::Result<void>(core::failureOf(made)),
                        tr("Backup made and checked"));
                });
        });
        connect(dialog_, &ui::BackupsDialog::testWanted, this, &BackupList::test);
        connect(dialog_, &ui::BackupsDialog::copyWanted, this, &BackupList::copy);
        connect(dialog_, &ui::BackupsDialog::restoreWanted, this, [this](const QString& name) {
            if (const auto* backup = named(name))
                emit restoreWanted(backup->folder);
        });
        connect(dialog_, &ui::BackupsDialog::lookWanted, this, [this](const QString& name) {
            if (const auto* backup = named(name))
                emit lookWanted(backup->folder);
        });
    }
    dialog_->show();
    dialog_->raise();
    refresh();
}

void BackupList::refresh() {
    database_.ask(
        this,
        [](storage::Shop& shop) -> core::Result<State> {
            auto backups = shop.backups();
            if (!backups)
                return core::failureOf(backups);
            auto care = storage::readCare(shop.folder());
            if (!care)
                return core::failureOf(care);
            return State{std::move(*backups), std::move(*care)};
        },
        [this](core::Result<State> state) {
            if (!state) {
                emit failed(state.error());
                return;
            }
            state_ = std::move(*state);
            if (!dialog_)
                return;
            QList<ui::BackupRow> rows;
            for (const auto& backup : state_.backups)
                rows.append({keyOf(backup), utc(backup.at), backupReasonText(backup.reason),
                             static_cast<qint64>(backup.jobs()), static_cast<qint64>(backup.bytes),
                             QString::fromStdString(backup.warning)});
            dialog_->setRows(rows);
            const auto& care = state_.care;
            const QString away =
                care.offMachine
                    ? tr("Last copy on another disk: %1, in %2.")
                          .arg(dayText(*care.offMachine), QString::fromStdString(care.offMachineFolder))
                    : tr("No copy on another disk yet: these would die with this one.");
            const QString tested = care.testRestore
                                       ? tr("Last test of a restore: %1.").arg(dayText(*care.testRestore))
                                       : tr("No restore was tested yet.");
            dialog_->setState(away + u' ' + tested);
        });
}

const storage::BackupInfo* BackupList::named(const QString& name) const {
    const auto found =
        std::ranges::find_if(state_.backups, [&](const auto& one) { return keyOf(one) == name; });
    return found == state_.backups.end() ? nullptr : &*found;
}

void BackupList::begin(const QString& what) {
    window_.setWork({{3, what, -1, false}});
    if (dialog_) {
        dialog_->setNote(what);
        dialog_->setBusy(true);
    }
}

void BackupList::end(const core::Result<void>& outcome, const QString& done) {
    window_.setWork({});
    const QString sentence = outcome ? done : sentenceFor(outcome.error());
    if (dialog_) {
        dialog_->setBusy(false);
        dialog_->setNote(sentence);
    }
    if (outcome)
        emit said(sentence);
    else
        emit failed(outcome.error());
    refresh();
    emit cared();
}

void BackupList::copy(const QString& name) {
    const auto* backup = named(name);
    if (backup == nullptr)
        return;
    const QString folder = askFolder_();
    if (folder.isEmpty())
        return;
    begin(tr("Copying the backup and reading it back"));
    const auto place = std::filesystem::path(folder.toStdU16String());
    database_.ask(
        this,
        [backup = *backup, place](storage::Shop& shop) {
            return storage::copyOffMachine(shop.folder(), backup, place, storage::machineNow());
        },
        [this](const core::Result<storage::OffMachineCopy>& made) {
            if (!made) {
                end(core::failureOf(made), {});
                return;
            }
            const QString where = QString::fromStdString(made->folder.string());
            end({}, made->sameDisk
                        ? tr("Copied to %1, but that is the same disk: it would be lost with the shop.")
                              .arg(where)
                        : tr("Copied to %1 and read back").arg(where));
        });
}

void BackupList::test(const QString& name) {
    const auto* backup = named(name);
    if (backup == nullptr)
        return;
    begin(tr("Restoring the backup on trial"));
    database_.ask(
        this,
        [backup = *backup](storage::Shop& shop) {
            return storage::testRestore(shop.folder(), backup, storage::machineNow());
        },
        [this, jobs = backup->jobs()](const core::Result<void>& outcome) {
            end(outcome, tr("The backup was restored on trial, opened and checked in full: sound (jobs: %1).")
                             .arg(QLocale().toString(static_cast<qlonglong>(jobs))));
        });
}

void BackupList::copyNewest() {
    if (!state_.backups.empty())
        copy(keyOf(state_.backups.front()));
}

void BackupList::testNewest() {
    if (!state_.backups.empty())
        test(keyOf(state_.backups.front()));
}

} // namespace milehold::app
