// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/desktop/database.h"
#include "app/desktop/desk_settings.h"
#include "app/desktop/save_history.h"
#include "app/desktop/session.h"
#include "app/desktop/session_loader.h"
#include "storage/backup.h"
#include "ui/shelf/shelf_record.h"

#include <QObject>
#include <QString>

#include <filesystem>
#include <functional>
#include <memory>
#include <optional>

namespace milehold::ui {
class QuotePageDialog;
enum class OwnerTopic;
class MainWindow;
class StartPage;
} // namespace milehold::ui

namespace milehold::app {

class RecordsDesk;

/// Puts the program together: while no shop is open the start page, then the window with its four rooms, each
/// joined to the records by a controller.
class Desk : public QObject {
    Q_OBJECT
public:
    explicit Desk(std::function<core::Date()> today, QObject* parent = nullptr);
    ~Desk() override;

    /// The page on which a shop is opened or started.
    void showStart(const QString& trouble = {});
    void openShop(const QString& folder);
    void createShop(const QString& folder, const core::ShopSettings& settings);

    ui::MainWindow* window() const { return window_.get(); }
    ui::StartPage* startPage() const { return start_.get(); }
    Database& database() { return database_; }
    Session& session() { return session_; }
    RecordsDesk* records() const;
    /// Opens the newest repair in the Bay, or quotes for its vehicle at the Counter: something to look at in
    /// a picture.
    void openNewestJob();
    void quoteNewestVehicle();
    /// The page for the customer of that quote; null while there is none.
    ui::QuotePageDialog* openQuotePage();
    void showOfficeTopic(ui::OwnerTopic topic);
    /// True while records are read or figures worked out.
    bool isBusy() const;

signals:
    /// The window stands and has read its shop.
    void opened();
    void failedToOpen(const milehold::core::Error& error);

private:
    struct Rooms;

    void open(const QString& folder, Database::Opener opener, const QString& what = {});
    /// Makes the widgets of the next window, which know nothing of a shop.
    void prepareWindow();
    void makeWindow();
    void wireRooms();
    void wireNotes();
    void wireBackups();
    void wireServer();
    void offerShelfDrafts(const QStringList& names, const ui::ShelfRecord& newest);
    void wireWays();
    void wireVehiclePage();
    QStringList activePeople() const;
    void showPeople();
    void choosePerson(const QString& name);
    /// Nobody where the name is no active person's.
    void showPerson(const QString& name);
    void closeDown(bool* allow);
    void keepDrafts();
    /// Takes the window and its rooms down, for another state of the shop.
    void dropWindow();

    // What is done about a shop that does not open, and for another state of it (desk_backups.cpp).
    Database::Opener withBackup(Database::Opener opener, const QString& folder);
    Database::Opener restoring(const std::filesystem::path& backup);
    void tellTrouble(const core::Error& error);
    void restoreNewest();
    void lookAtBackup(const storage::BackupInfo& backup);
    void salvageShop();
    /// Closes the shop and its window, then does the next thing.
    void leaveFor(const std::function<void()>& next);
    void restoreChosen(const std::filesystem::path& backup);
    void lookAtChosen(const std::filesystem::path& backup);

    std::unique_ptr<ui::StartPage> start_;
    std::unique_ptr<ui::MainWindow> window_;
    std::unique_ptr<ui::MainWindow> next_; ///< made while its shop is being opened on the other thread
    QString folder_;
    DeskSettings desk_;
    Session session_;
    Database database_;
    SessionLoader loader_;
    SaveHistory saves_;
    std::unique_ptr<Rooms> rooms_;
    bool closed_ = false;
    std::shared_ptr<std::optional<storage::BackupInfo>>
        good_;      ///< the newest good backup of what did not open
    QString later_; ///< said in the next window
};

} // namespace milehold::app
