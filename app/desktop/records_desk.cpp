// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/records_desk.h"

#include "app/desktop/error_sentence.h"
#include "app/desktop/exchange_controller.h"
#include "app/desktop/record_history.h"
#include "app/desktop/shelf_saves.h"
#include "storage/erasure.h"
#include "storage/shop.h"
#include "ui/bay/bay_room.h"
#include "ui/bay/vehicle_words.h"
#include "ui/counter/counter_room.h"
#include "ui/records/forget_dialog.h"
#include "ui/shelf/detail_pane.h"
#include "ui/shelf/shelf_room.h"
#include "ui/shell/main_window.h"
#include "ui/shell/message_bar.h"
#include "ui/shell/top_bar.h"
#include "ui/theme/icons.h"
#include "ui/widgets/record_table.h"
#include "ui/widgets/text.h"

#include <QAction>
#include <QMenu>

namespace milehold::app {

namespace {

struct HistorySubject {
    QString title;
    std::string table;
    core::Uuid row;
};

/// The key of the shop's own row is the same in every shop.
core::Uuid rowOf(const ui::ShelfRecord& record) {
    const core::Uuid id = ui::idOf(record);
    return id.isNull() ? core::uuidFromString("00000000-0000-4000-8000-000000000001").value() : id;
}

} // namespace

RecordsDesk::RecordsDesk(ui::MainWindow& window, Database& database, Session& session, SaveHistory& saves,
                         QObject* parent)
    : QObject(parent), window_(window), database_(database), session_(session), saves_(saves),
      exchange_(std::make_unique<ExchangeController>(window, database, session)),
      bay_(window.findChild<ui::BayRoom*>()), counter_(window.findChild<ui::CounterRoom*>()),
      shelf_(window.findChild<ui::ShelfRoom*>()) {
    connect(exchange_.get(), &ExchangeController::said, this, &RecordsDesk::said);
    connect(exchange_.get(), &ExchangeController::needsAttention, this, &RecordsDesk::needsAttention);
    if (bay_ != nullptr) {
        bay_->setAcceptDrops(true);
        bay_->installEventFilter(this);
    }
    addActions();
    wireSaves();
}

RecordsDesk::~RecordsDesk() = default;

void RecordsDesk::failed(const core::Error& error) {
    emit needsAttention(sentenceFor(error));
}

void RecordsDesk::addActions() {
    QMenu* menu = window_.findChild<ui::TopBar*>()->moreMenu();
    QAction* const before = menu->actions().value(1); // after the shop's settings
    const auto add = [&](const char* iconName, const QString& text, const QKeySequence& keys, auto act) {
        auto* action = new QAction(ui::icon(QString::fromLatin1(iconName)), text, this);
        action->setShortcut(keys);
        action->setShortcutContext(Qt::WindowShortcut);
        connect(action, &QAction::triggered, this, act);
        menu->insertAction(before, action);
        window_.addAction(action); // a menu that is closed hears no keys
        return action;
    };
    menu->insertSeparator(before);
    auto* redo =
        add("redo", tr("Do again"), QKeySequence(QStringLiteral("Ctrl+Shift+Z")), [this] { saves_.redo(); });
    redo->setEnabled(false);
    connect(&saves_, &SaveHistory::changed, redo, [this, redo] {
        redo->setEnabled(saves_.canRedo());
        redo->setText(saves_.canRedo() ? tr("Do again: %1").arg(saves_.redoText()) : tr("Do again"));
    });
    add("clock", tr("History of what is open"), QKeySequence(QStringLiteral("Ctrl+H")),
        [this] { showHistory(); });
    add("camera", tr("Photos and sounds of the job"), QKeySequence(QStringLiteral("Ctrl+Shift+A")),
        [this] { showAttachments(); });
    menu->insertSeparator(before);
    add("import", tr("Import a table…"), QKeySequence(QStringLiteral("Ctrl+Shift+I")),
        [this] { exchange_->importTable(); });
    add("export", tr("Export…"), QKeySequence(QStringLiteral("Ctrl+Shift+E")),
        [this] { exchange_->exportTable(); });
    add("help", tr("File for support…"), {}, [this] { askForSupportFile(); });
    add("shield", tr("Forget a customer…"), {}, [this] { forgetCustomer(); });
}

void RecordsDesk::wireSaves() {
    connect(&saves_, &SaveHistory::redone, this,
            [this](const QString& what) { emit said(tr("Done again: %1").arg(what)); });
    connect(&saves_, &SaveHistory::refused, this, [this](const QString& sentence) {
        window_.messages()->show(
            {QStringLiteral("undo"), ui::MessageBar::Kind::NeedsYou, sentence, {}, true});
    });
    connect(&session_, &Session::whoChanged, &saves_, &SaveHistory::refresh);
    saves_.refresh();
}

RecordsDesk::Current RecordsDesk::current() const {
    Current now;
    const QWidget* shown = window_.room(window_.currentRoom());
    if (bay_ != nullptr && shown == bay_ && bay_->isSheetOpen() && !bay_->sheet()->isAskingForVehicle()) {
        const ui::JobCard& card = bay_->sheet()->form()->stored();
        if (card.job.revision > 0) {
            now.job = card.job.id;
            now.jobTitle = tr("Job %1, %2").arg(card.job.number).arg(ui::vehicleTitle(card.vehicle));
        }
        if (card.vehicle.revision > 0)
            now.vehicle = card.vehicle.id;
        if (card.customer && card.customer->revision > 0)
            now.customer = card.customer->id;
    } else if (bay_ != nullptr && shown == bay_) {
        const auto* table = bay_->jobs()->findChild<ui::RecordTable*>();
        const int row = table != nullptr ? table->currentRecord() : -1;
        if (row >= 0) {
            const ui::JobListRow& job = bay_->jobs()->model()->job(row);
            now.job = job.id;
            now.jobTitle = tr("Job %1, %2").arg(job.number).arg(ui::toText(job.vehicleLabel));
            now.vehicle = job.vehicle;
        }
    } else if (counter_ != nullptr && shown == counter_) {
        if (const auto vehicle = counter_->vehicle().vehicle)
            now.vehicle = vehicle->id;
    } else if (shelf_ != nullptr && shown == shelf_) {
        const auto* pane = shelf_->findChild<ui::DetailPane*>();
        if (pane != nullptr && pane->hasRecord())
            now.onShelf = pane->record();
    }
    return now;
}

void RecordsDesk::showHistory() {
    const Current now = current();
    std::vector<HistorySubject> subjects;
    if (now.job)
        subjects.push_back({now.jobTitle, "job", now.job->uuid});
    if (now.vehicle)
        subjects.push_back({tr("Vehicle"), "vehicle", now.vehicle->uuid});
    if (now.onShelf && ui::revisionOf(*now.onShelf) > 0)
        subjects.push_back(
            {ui::nameOf(*now.onShelf).isEmpty() ? ui::kindOf(*now.onShelf) : ui::nameOf(*now.onShelf),
             tableOf(*now.onShelf), rowOf(*now.onShelf)});
    if (subjects.empty()) {
        emit said(tr("Open a job, a vehicle or something on the shelf to see its history"));
        return;
    }
    const LoggedWords words{session_.shelf(), session_.staff(), session_.settings(), session_.unit()};
    database_.ask(
        this,
        [subjects, words, vehicle = now.vehicle,
         owner = tr("Customer")](storage::Shop& shop) -> core::Result<QList<ui::RecordHistory>> {
            std::vector<HistorySubject> all = subjects;
            if (vehicle) {
                const auto stored = shop.vehicles().find(*vehicle);
                if (stored && stored->customer)
                    all.push_back({owner, "customer", stored->customer->uuid});
            }
            QList<ui::RecordHistory> histories;
            for (const auto& subject : all) {
                auto rows = readHistoryRows(shop, subject.table, subject.row, words);
                if (!rows)
                    return core::failureOf(rows);
                histories.append({subject.title, std::move(*rows)});
            }
            return histories;
        },
        [this](core::Result<QList<ui::RecordHistory>> histories) {
            if (!histories)
                return failed(histories.error());
            auto* dialog = new ui::HistoryDialog(*histories, &window_);
            dialog->setAttribute(Qt::WA_DeleteOnClose);
            dialog->open();
        });
}

void RecordsDesk::forgetCustomer() {
    const Current now = current();
    if (now.customer)
        return askToForget(*now.customer);
    if (!now.vehicle) {
        emit said(tr("Open a job or a vehicle of the customer first"));
        return;
    }
    database_.ask(
        this, [vehicle = *now.vehicle](storage::Shop& shop) { return shop.vehicles().find(vehicle); },
        [this](core::Result<core::Vehicle> vehicle) {
            if (!vehicle)
                return failed(vehicle.error());
            if (!vehicle->customer)
                emit said(tr("This vehicle has no customer"));
            else
                askToForget(*vehicle->customer);
        });
}

namespace {

core::Result<ui::Forgetting> readScope(storage::Shop& shop, core::CustomerId customer) {
    const auto person = shop.customers().find(customer);
    if (!person)
        return core::failureOf(person);
    const auto scope = storage::whatForgettingTakes(shop, customer);
    if (!scope)
        return core::failureOf(scope);
    const core::Date until(std::chrono::floor<std::chrono::days>(scope->backupsUntil));
    return ui::Forgetting{ui::toText(person->name),
                          static_cast<int>(scope->vehicles),
                          static_cast<int>(scope->jobs),
                          static_cast<int>(scope->followUps),
                          static_cast<int>(scope->attachments),
                          static_cast<int>(scope->drafts),
                          ui::dateText(until),
                          static_cast<int>(scope->jobsInWork),
                          scope->onServer};
}

} // namespace

void RecordsDesk::askToForget(core::CustomerId customer) {
    database_.ask(
        this, [customer](storage::Shop& shop) { return readScope(shop, customer); },
        [this, customer](core::Result<ui::Forgetting> scope) {
            if (!scope)
                return failed(scope.error());
            auto* dialog = new ui::ForgetDialog(*scope, &window_);
            dialog->setAttribute(Qt::WA_DeleteOnClose);
            connect(dialog, &QDialog::accepted, this, [this, customer] {
                emit forgetting();
                database_.ask(
                    this, [customer](storage::Shop& shop) { return storage::forgetCustomer(shop, customer); },
                    [this](core::Result<storage::ErasureScope> done) {
                        if (!done)
                            return failed(done.error());
                        emit said(tr("Forgotten. The lives of the repairs stay"));
                        if (done->oldRowsLeft)
                            window_.messages()->show({QStringLiteral("forget"),
                                                      ui::MessageBar::Kind::NeedsYou,
                                                      tr("The customer is forgotten in the records, and the "
                                                         "server's files still hold "
                                                         "the old rows: ask whoever keeps the server to "
                                                         "write its tables anew. The "
                                                         "manual says how, under \"Several stations\"."),
                                                      {},
                                                      true});
                        database_.announceChange();
                    });
            });
            dialog->open();
        });
}

} // namespace milehold::app
