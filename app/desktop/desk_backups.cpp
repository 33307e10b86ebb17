// SPDX-License-Identifier: GPL-3.0-or-later
// What the desk does about a shop that does not open, and when another state of it is wanted.
#include "app/desktop/desk.h"
#include "app/desktop/error_sentence.h"
#include "storage/backup_shelf.h"
#include "storage/machine_clock.h"
#include "storage/salvage.h"
#include "storage/shop.h"
#include "ui/shell/main_window.h"
#include "ui/shell/message_bar.h"
#include "ui/start/start_page.h"

#include <QDateTime>
#include <QLocale>

namespace milehold::app {

namespace {

std::filesystem::path toPath(const QString& folder) {
    return std::filesystem::path(folder.toStdU16String());
}

QString momentText(core::Moment at) {
    const auto moment = QDateTime::fromMSecsSinceEpoch(at.time_since_epoch().count(), Qt::UTC);
    return QLocale().toString(moment.toLocalTime(), QLocale::ShortFormat);
}

QString jobsText(std::int64_t jobs) {
    return QLocale().toString(static_cast<qlonglong>(jobs));
}

bool wantsBackup(core::ErrorCode code) {
    return code == core::ErrorCode::Unreadable || code == core::ErrorCode::InUse ||
           code == core::ErrorCode::NotFound || code == core::ErrorCode::NotAShop;
}

} // namespace

/// Opens a shop, and where that fails looks for the newest good backup on the same thread.
Database::Opener Desk::withBackup(Database::Opener opener, const QString& folder) {
    good_ = std::make_shared<std::optional<storage::BackupInfo>>();
    return [opener = std::move(opener), good = good_, path = toPath(folder)] {
        auto opened = opener();
        if (!opened && wantsBackup(opened.error().code))
            *good = storage::newestGoodBackup(path);
        return opened;
    };
}

void Desk::tellTrouble(const core::Error& error) {
    // A file that no longer looks like a shop, in a folder with backups of one, has lost its beginning.
    const bool damaged = error.code == core::ErrorCode::Unreadable ||
                         (error.code == core::ErrorCode::NotAShop && good_ && *good_);
    ui::StartPage::Remedies remedies;
    remedies.salvage = damaged;
    QString sentence = sentenceForOpening(error, folder_);
    if (good_ && *good_) {
        const auto& backup = **good_;
        remedies.look = true;
        remedies.restore = error.code != core::ErrorCode::InUse;
        const QString of = tr("The newest good backup is of %1 (jobs: %2).")
                               .arg(momentText(backup.at), jobsText(backup.jobs()));
        sentence += u' ' + of;
        if (remedies.restore)
            sentence += u' ' + tr("Brought back, what was saved after that moment is not in it; the file "
                                  "that it replaces is "
                                  "kept.");
    } else if (damaged) {
        sentence += u' ' + tr("There is no good backup in its folder.");
    }
    if (damaged)
        sentence +=
            u' ' + tr("Or save what is readable: that reads a copy, and keeps the damaged file as it is.");
    showStart(sentence);
    start_->setTrouble(sentence, remedies);
}

void Desk::restoreNewest() {
    if (!good_ || !*good_)
        return;
    open(folder_, restoring((*good_)->folder), tr("Bringing the backup back"));
}

Database::Opener Desk::restoring(const std::filesystem::path& backup) {
    return [path = toPath(folder_), backup]() -> core::Result<std::unique_ptr<storage::Shop>> {
        const auto all = storage::listBackupsIn(backup.parent_path());
        if (!all)
            return core::failureOf(all);
        for (const auto& one : *all) {
            if (one.folder != backup)
                continue;
            if (const auto kept = storage::restoreBackup(path, one); !kept)
                return core::failureOf(kept);
            return storage::Shop::open(path);
        }
        return core::fail(core::ErrorCode::NotFound, "the backup is no longer there");
    };
}

void Desk::lookAtBackup(const storage::BackupInfo& backup) {
    open(
        folder_, [backup] { return storage::Shop::browse(backup); }, tr("Opening the backup to look at"));
    later_ = tr("This is the backup of %1, to look at: nothing can be changed in it. Close the window and "
                "open the shop to "
                "go on working.")
                 .arg(momentText(backup.at));
}

void Desk::salvageShop() {
    const auto report = std::make_shared<storage::SalvageReport>();
    open(
        folder_,
        [path = toPath(folder_), report]() -> core::Result<std::unique_ptr<storage::Shop>> {
            auto made = storage::salvageShop(path, storage::machineNow());
            if (!made)
                return core::failureOf(made);
            *report = std::move(*made);
            return storage::Shop::open(path);
        },
        tr("Reading what is readable of the damaged shop"));
    connect(
        this, &Desk::opened, this,
        [this, report] {
            if (report->damaged.empty())
                return;
            window_->messages()->show(
                {QStringLiteral("salvage"),
                 ui::MessageBar::Kind::NeedsYou,
                 tr("Jobs saved from the damaged shop: %1. What was lost stands in %2, beside the damaged "
                    "file.")
                     .arg(jobsText(report->jobs()),
                          QString::fromStdString((report->damaged / "salvage-report.txt").string())),
                 {},
                 true});
        },
        Qt::SingleShotConnection);
}

void Desk::leaveFor(const std::function<void()>& next) {
    keepDrafts();
    window_->setEnabled(false);
    database_.close(this, [this, next](const core::Result<void>&) {
        // The shop is closed whether its closing backup worked or not; a restore makes one of its own.
        dropWindow();
        next();
    });
}

void Desk::restoreChosen(const std::filesystem::path& backup) {
    leaveFor([this, backup] { open(folder_, restoring(backup), tr("Bringing the backup back")); });
}

void Desk::lookAtChosen(const std::filesystem::path& backup) {
    leaveFor([this, backup] {
        const auto all = storage::listBackupsIn(backup.parent_path());
        if (!all)
            return showStart(sentenceFor(all.error()));
        for (const auto& one : *all) {
            if (one.folder == backup)
                return lookAtBackup(one);
        }
        showStart(tr("The backup is no longer there."));
    });
}

} // namespace milehold::app
