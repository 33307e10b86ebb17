// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/desktop/database.h"
#include "app/desktop/save_history.h"
#include "app/desktop/session.h"
#include "core/shop/job.h"
#include "ui/shelf/shelf_record.h"

#include <QObject>
#include <QTemporaryDir>

#include <memory>
#include <optional>

class QAction;

namespace milehold::ui {
class AttachmentsDialog;
class BayRoom;
class CounterRoom;
class MainWindow;
class RecordTable;
class ShelfRoom;
} // namespace milehold::ui

namespace milehold::app {

class ExchangeController;

/// What can be done with the record that is open, in whichever room: its history, its photos and sounds,
/// taking saves back and doing them again, tables in and out, and forgetting a customer. By the menu and
/// keys.
class RecordsDesk : public QObject {
    Q_OBJECT
public:
    RecordsDesk(ui::MainWindow& window, Database& database, Session& session, SaveHistory& saves,
                QObject* parent = nullptr);
    ~RecordsDesk() override;

    /// The record that the person looks at.
    struct Current {
        std::optional<core::JobId> job;
        QString jobTitle;
        std::optional<core::VehicleId> vehicle;
        std::optional<core::CustomerId> customer;
        std::optional<ui::ShelfRecord> onShelf;
    };
    Current current() const;

public slots:
    void showHistory();
    void showAttachments();
    void forgetCustomer();
    void askForSupportFile();
    /// Writes what helps to find a fault, with nobody named in it; said() tells how that went.
    void writeSupportFile(const QString& path);
    void addFiles(milehold::core::JobId job, const QStringList& paths);
    /// Shows a copy of an attached file in whatever opens its kind.
    void openAttachment(milehold::core::AttachmentId id);

signals:
    void said(const QString& note);
    void needsAttention(const QString& sentence);
    /// A customer is about to be forgotten: nothing that is typed about them may be kept.
    void forgetting();

protected:
    /// Files that are dropped on an open job.
    bool eventFilter(QObject* watched, QEvent* event) override;

private:
    void addActions();
    void wireSaves();
    void askToForget(core::CustomerId customer);
    void listAttachments(core::JobId job);
    void removeAttachment(core::JobId job, core::AttachmentId id);
    void failed(const core::Error& error);

    ui::MainWindow& window_;
    Database& database_;
    Session& session_;
    SaveHistory& saves_;
    std::unique_ptr<ExchangeController> exchange_;
    ui::BayRoom* bay_;
    ui::CounterRoom* counter_;
    ui::ShelfRoom* shelf_;
    ui::AttachmentsDialog* attachments_ = nullptr;
    QTemporaryDir copies_; ///< of attachments that are looked at; goes with the program
};

} // namespace milehold::app
