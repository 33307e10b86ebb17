// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/care_controller.h"

#include "app/desktop/error_sentence.h"
#include "storage/attachment_store.h"
#include "storage/off_machine.h"
#include "storage/shop.h"
#include "ui/shell/main_window.h"
#include "ui/shell/message_bar.h"

#include <QLocale>

namespace milehold::app {

namespace {

using namespace std::chrono_literals;

const QString kRoom = QStringLiteral("disk-room");
const QString kAway = QStringLiteral("off-machine");
const QString kTest = QStringLiteral("test-restore");
const QString kCare = QStringLiteral("care");
constexpr auto kCopyEvery = 24h;

core::Result<CareState> look(storage::Shop& shop, core::Moment now) {
    CareState state;
    state.readOnly = shop.readOnly();
    auto backups = shop.backups();
    if (!backups)
        return core::failureOf(backups);
    auto room = storage::roomOf(shop.folder());
    if (!room)
        return core::failureOf(room);
    state.room = *room;
    auto care = storage::readCare(shop.folder());
    if (!care)
        return core::failureOf(care);
    state.care = *care;
    if (!state.readOnly && storage::isDue(state.care.swept, now, storage::kSweepEvery) &&
        storage::sweepUnnamed(shop, now)) {
        state.care.swept = now;
        if (auto kept = storage::writeCare(shop.folder(), state.care); !kept)
            return core::failureOf(kept);
    }
    if (backups->empty())
        return state;
    state.oldestBackup = backups->back().at;
    if (state.readOnly || state.care.offMachineFolder.empty() ||
        !storage::isDue(state.care.offMachine, now, kCopyEvery))
        return state;
    const auto copied =
        storage::copyOffMachine(shop.folder(), backups->front(), state.care.offMachineFolder, now);
    if (copied)
        state.care.offMachine = now;
    else if (copied.error().code != core::ErrorCode::NotFound)
        state.copyFailed = copied.error();
    // Else a disk that is not plugged in, which is no error: the bar reminds of it after a week.
    return state;
}

} // namespace

CareController::CareController(ui::MainWindow& window, Database& database, std::function<core::Moment()> now,
                               QObject* parent)
    : QObject(parent), window_(window), database_(database), now_(std::move(now)) {
    connect(window_.messages(), &ui::MessageBar::actionChosen, this, [this](const QString& id, int) {
        if (id == kAway)
            emit copyWanted();
        if (id == kTest)
            emit testWanted();
    });
    hour_.setInterval(1h);
    connect(&hour_, &QTimer::timeout, this, &CareController::refresh);
    hour_.start();
    refresh();
}

void CareController::refresh() {
    database_.ask(
        this, [now = now_()](storage::Shop& shop) { return look(shop, now); },
        [this](const core::Result<CareState>& state) {
            if (!state)
                window_.messages()->show(
                    {kCare,
                     ui::MessageBar::Kind::NeedsYou,
                     tr("Backups and copies could not be looked after. %1").arg(sentenceFor(state.error())),
                     {},
                     true});
            else if (!state->readOnly)
                tell(*state);
        });
}

void CareController::tell(const CareState& state) {
    using Kind = ui::MessageBar::Kind;
    auto* bar = window_.messages();
    const QString free = QLocale().formattedDataSize(static_cast<qint64>(state.room.free));
    switch (state.room.level()) {
    case storage::RoomLevel::Enough:
        bar->remove(kRoom);
        break;
    case storage::RoomLevel::Low:
        bar->show(
            {kRoom,
             Kind::NeedsYou,
             tr("The shop's disk has %1 free. Backups still run; make room before it is full.").arg(free),
             {},
             true});
        break;
    case storage::RoomLevel::Scarce:
        bar->show({kRoom,
                   Kind::Wrong,
                   tr("The shop's disk has only %1 free. Jobs are still saved; imports and attachments wait "
                      "until there "
                      "is room.")
                       .arg(free),
                   {},
                   false});
        break;
    }
    const auto now = now_();
    const auto isDue = [&](std::optional<core::Moment> last, std::chrono::hours every) {
        const auto since = last ? last : state.oldestBackup;
        return since && storage::isDue(since, now, every);
    };
    if (state.copyFailed)
        bar->show({kAway,
                   Kind::Wrong,
                   tr("The daily copy to another disk failed. %1").arg(sentenceFor(*state.copyFailed)),
                   {tr("Copy to another disk…")},
                   true});
    else if (isDue(state.care.offMachine, storage::kOffMachineEvery))
        bar->show({kAway,
                   Kind::NeedsYou,
                   tr("No backup was copied to another disk for a week. Fire, theft or a dead disk would "
                      "take them all."),
                   {tr("Copy to another disk…")},
                   true});
    else
        bar->remove(kAway);
    if (isDue(state.care.testRestore, storage::kTestRestoreEvery))
        bar->show({kTest,
                   Kind::NeedsYou,
                   tr("No restore was tested for half a year. A test takes a moment and changes nothing."),
                   {tr("Test a restore")},
                   true});
    else
        bar->remove(kTest);
}

} // namespace milehold::app
