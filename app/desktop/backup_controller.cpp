// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/backup_controller.h"

#include "storage/machine_clock.h"
#include "storage/shop.h"
#include "ui/shell/main_window.h"

#include <chrono>

namespace milehold::app {

namespace {

using namespace std::chrono_literals;

constexpr auto kAfterChange = 30min;
constexpr auto kDaily = 24h;
constexpr auto kOld = std::chrono::hours(48);

} // namespace

QString backupAge(std::optional<core::Moment> at, core::Moment now) {
    if (!at)
        return BackupController::tr("No backup yet");
    const auto minutes = static_cast<int>(std::chrono::floor<std::chrono::minutes>(now - *at).count());
    if (minutes < 1)
        return BackupController::tr("Backup just now");
    if (minutes < 60)
        return BackupController::tr("Backup %n minute(s) ago", nullptr, minutes);
    if (minutes < 48 * 60)
        return BackupController::tr("Backup %n hour(s) ago", nullptr, minutes / 60);
    return BackupController::tr("Backup %n day(s) ago", nullptr, minutes / (24 * 60));
}

BackupController::BackupController(ui::MainWindow& window, Database& database, QObject* parent)
    : QObject(parent), window_(window), database_(database) {
    afterChange_.setSingleShot(true);
    afterChange_.setInterval(kAfterChange);
    connect(&afterChange_, &QTimer::timeout, this, [this] { backUp(storage::BackupReason::Daily); });
    connect(&database_, &Database::changed, this, [this] {
        // The first change starts the clock; later ones within the half hour do not put it off.
        if (!afterChange_.isActive())
            afterChange_.start();
    });
    connect(&window_, &ui::MainWindow::backupWanted, this, &BackupController::backUpNow);
    minute_.setInterval(1min);
    connect(&minute_, &QTimer::timeout, this, [this] {
        refresh(); // a copy may have been made before an import, or by another program
        // A shop that stays open over night still gets one a day.
        if (!readOnly_ && !making_ && (!last_ || storage::machineNow() - *last_ >= kDaily))
            backUp(storage::BackupReason::Daily);
    });
    minute_.start();
    begin();
}

void BackupController::begin() {
    struct Found {
        std::optional<storage::BackupInfo> last;
        bool wanted = false;
        bool readOnly = false;
    };
    database_.ask(
        this,
        [](storage::Shop& shop) -> core::Result<Found> {
            auto last = shop.lastBackup();
            if (!last)
                return core::failureOf(last);
            return Found{*last, !shop.readOnly() && shop.changedSinceBackup(), shop.readOnly()};
        },
        [this](const core::Result<Found>& found) {
            failedLast_ = !found;
            if (found) {
                readOnly_ = found->readOnly;
                last_ = found->last ? std::optional(found->last->at) : std::nullopt;
                if (found->wanted)
                    backUp(storage::BackupReason::Daily);
            }
            showAge();
        });
}

void BackupController::refresh() {
    database_.ask(
        this, [](storage::Shop& shop) { return shop.lastBackup(); },
        [this](core::Result<std::optional<storage::BackupInfo>> last) {
            failedLast_ = !last;
            if (last)
                last_ = *last ? std::optional((*last)->at) : std::nullopt;
            showAge();
        });
}

void BackupController::backUpNow() {
    backUp(storage::BackupReason::OnDemand);
}

void BackupController::backUp(storage::BackupReason reason) {
    if (making_)
        return;
    making_ = true;
    afterChange_.stop();
    window_.setWork({{1, tr("Copying the shop's book"), -1, false}});
    database_.ask(
        this, [reason](storage::Shop& shop) { return shop.backUp(reason); },
        [this](core::Result<storage::BackupInfo> made) {
            making_ = false;
            window_.setWork({});
            failedLast_ = !made;
            if (made) {
                last_ = made->at;
                emit said(tr("Backup made and checked"));
                if (!made->warning.empty())
                    emit alarmed(QString::fromStdString(made->warning));
            } else {
                emit failed(made.error());
            }
            showAge();
        });
}

void BackupController::showAge() {
    if (readOnly_) {
        window_.setBackupText(tr("Looking at a backup"), false);
        return;
    }
    const auto at = storage::machineNow();
    const bool needsYou = failedLast_ || !last_ || at - *last_ > kOld;
    window_.setBackupText(backupAge(last_, at), needsYou);
}

} // namespace milehold::app
